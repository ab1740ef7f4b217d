#include "base/figure.h"
#include "base/outcome.h"
#include "base/task.h"

#include <doctest/doctest.h>

using namespace leafwright;

TEST_CASE("a problem reads as one sentence and what to do") {
    Problem const problem{"range", "slab.thickness_mm", "is 80 mm; the range is 2 to 40 mm", "Roll it thinner"};
    CHECK(problem.sentence() == "slab.thickness_mm: is 80 mm; the range is 2 to 40 mm. Roll it thinner.");
    CHECK(Problem{"x", "", "the file is empty", ""}.sentence() == "the file is empty.");
}

TEST_CASE("an outcome is a value or a problem") {
    Outcome<int> const good{3};
    Outcome<int> const bad{Problem{"x", "", "no", ""}};
    CHECK(good.ok());
    CHECK(*good == 3);
    CHECK_FALSE(bad.ok());
    CHECK(bad.problem().code == "x");
}

TEST_CASE("ranges add end by end") {
    Figure const a{10, 9, 12, FigureFrom::by_default};
    Figure const sum = a + Figure::exact(5);
    CHECK(sum.low == 14);
    CHECK(sum.high == 17);
    CHECK(sum.from == FigureFrom::by_default);
    CHECK((a * -1.0).low == -12);
}

TEST_CASE("progress never goes back and cancel is sticky") {
    Task task;
    task.progress(0.5);
    task.progress(0.2);
    CHECK(task.progress() == 0.5);
    CHECK_FALSE(task.cancelled());
    task.cancel();
    CHECK(task.cancelled());
}
