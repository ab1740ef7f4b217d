// What every command shares: where to print, how to say what went wrong, how a piece is named.
#pragma once

#include "piece/plan.h"

#include <filesystem>
#include <functional>
#include <span>
#include <string>
#include <string_view>

namespace leafwright {

enum ExitStatus { kDone = 0, kRefusal = 1, kBadInput = 2 };

class Shell {
public:
    // On standard output.
    void print(std::string_view text) const;
    // On standard error: "leafwright: FILE: WHERE: WHAT. HINT." Gives the exit status that belongs to the problem.
    int complain(std::string_view file, Problem const& problem) const;
    // Pushes out what was printed. Bad input when standard output could not take it.
    int finish(int status) const;
};

// PIECE on the command line: "demo:NAME", or else a file.
Outcome<Piece> open_piece(std::string const& name);

// Makes the folder and those above it. Problem "file.write".
MaybeProblem make_folder(std::filesystem::path const& folder);

// Reads and plans a piece, tells what is wrong with either, and hands a plan to the work. A plan that holds a refusal
// is worked on too, then the refusal is told.
int with_plan(Shell const& shell, std::string const& name, std::function<int(std::shared_ptr<Plan const>)> const& work);

// The first refusal among warnings, told as a fault of the file; kDone when there is none.
int tell_refusal(Shell const& shell, std::string const& file, std::span<Warning const> warnings);

} // namespace leafwright
