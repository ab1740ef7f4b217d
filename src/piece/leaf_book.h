// The leaf book: the maker's own leaves as files in one folder, ID.leaf.json each. What is deleted goes to its bin
// (folder/bin) and can be taken back.
#pragma once

#include "leaf/own_leaf.h"

#include <filesystem>

namespace leafwright {

struct LeafBook {
    std::vector<OwnLeaf> leaves;       // by name
    std::vector<std::string> left_out; // files that could not be read, each with the reason in a sentence
};

// A folder that is not there is an empty book. At most 2,000 files are read.
LeafBook read_book(std::filesystem::path const& folder);

// A new page; its id is given anew when the book has one of that id. Problem "file.write".
Outcome<OwnLeaf> add_to_book(std::filesystem::path const& folder, OwnLeaf leaf);
// In place of the page of that id.
MaybeProblem put_in_book(std::filesystem::path const& folder, OwnLeaf const& leaf);
MaybeProblem put_in_bin(std::filesystem::path const& folder, std::string const& id);
MaybeProblem take_from_bin(std::filesystem::path const& folder, std::string const& id);

// Leaves of any file that holds some: *.leaf.json, or an SVG drawing (one leaf or several, named after the file).
// Remarks tell what was left out. length_mm: for a drawing that tells no size; 0: none given.
struct LeavesOfFile {
    std::vector<OwnLeaf> leaves;
    std::vector<std::string> remarks;
};
Outcome<LeavesOfFile> leaves_of_file(std::filesystem::path const& path, double length_mm = 0);
// By its name: .svg or .leaf.json.
bool is_leaf_file(std::filesystem::path const& path);

} // namespace leafwright
