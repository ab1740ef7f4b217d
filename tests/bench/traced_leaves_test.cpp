// Leaves ticked on the tracing page, without the window.
#include "bench/trace_page.h"
#include "piece/leaf_book.h"

#include "near.h"

#include <doctest/doctest.h>

#include <cmath>
#include <unistd.h>

using namespace leafwright;

namespace {

constexpr double kPi = 3.14159265358979;

struct Folder {
    std::filesystem::path path =
        std::filesystem::temp_directory_path() / ("leafwright-traced-test-" + std::to_string(getpid()));
    Folder() { std::filesystem::remove_all(path); }
    ~Folder() { std::filesystem::remove_all(path); }
};

// An ellipse of 40 by 80 mm, its foot at (0, 0), in a picture of 10 pixels a mm.
TracedEntry ellipse(std::string name) {
    TracedEntry entry;
    entry.name = std::move(name);
    for (int k = 0; k < 120; ++k) {
        double const a = 2 * kPi * k / 120;
        entry.leaf.outline_mm.outer.emplace_back(20 * std::cos(a), 40 + 40 * std::sin(a));
    }
    entry.leaf.midrib_mm = {{0, 0}, {0, 80}};
    entry.leaf.length_mm = 80;
    return entry;
}

void lay_out(TracePage& page) {
    page.scale = PhotoScale{};
    page.scale->mm_of_px = {0.1, 0, 0, 0, 0.1, 0, 0, 0, 1};
    page.scale->px_of_mm = {10, 0, 0, 0, 10, 0, 0, 0, 1};
    page.scale->error = 0.004;
    page.leaves = {ellipse("Hazel"), ellipse("Hazel"), ellipse("Left out"), ellipse("Cut")};
    page.leaves[2].taken = false;
    page.leaves[3].leaf.cut_by_edge = true;
}

} // namespace

TEST_CASE("traced leaves that are ticked lie in the leaf book at their true size") {
    Folder const folder;
    TracePage page([] {});
    lay_out(page);
    auto leaves = ticked_leaves(page);
    REQUIRE(leaves.ok());
    REQUIRE(leaves->size() == 2);
    CHECK(!keep_in_book(folder.path, *leaves).has_value());
    LeafBook const book = read_book(folder.path);
    CHECK(book.left_out.empty());
    REQUIRE(book.leaves.size() == 2);
    CHECK(book.leaves[0].id != book.leaves[1].id);
    for (OwnLeaf const& leaf : book.leaves) {
        CHECK(leaf.name == "Hazel");
        CHECK(leaf.scale_error == 0.004);
        CHECK_REL(length_mm(leaf), 80, 1e-6);
        // Of the ellipse's 120-gon: 120/2 sin(2 pi/120) a b.
        CHECK_REL(area(leaf.outline_mm), 60 * std::sin(2 * kPi / 120) * 20 * 40, 1e-5);
    }
    // The piece is given the same pages as the book.
    CHECK((*leaves)[0].id == "hazel");
    CHECK((*leaves)[1].id == "hazel-2");
}

TEST_CASE("a leaf book that cannot be written is told, and the leaves stay as they were") {
    TracePage page([] {});
    lay_out(page);
    auto leaves = ticked_leaves(page);
    REQUIRE(leaves.ok());
    std::vector<OwnLeaf> const before = *leaves;
    auto const problem = keep_in_book({}, *leaves);
    REQUIRE(problem.has_value());
    CHECK(problem->code == "file.write");
    CHECK(*leaves == before);
}
