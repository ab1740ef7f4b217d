#include "cli/commands.h"
#include "cli/range_input.h"
#include "piece/leaf_file.h"

#include <algorithm>

namespace leafwright {

namespace {

int check_file(Shell const& shell, std::string const& file) {
    if (file.ends_with(".leaf.json")) {
        Outcome<OwnLeaf> const leaf = load_own_leaf(file);
        return leaf ? int{kDone} : shell.complain(file, leaf.problem());
    }
    if (is_range_name(file)) {
        Outcome<RangeInput> const range = open_range(file);
        return range ? int{kDone} : shell.complain(file, range.problem());
    }
    return with_plan(shell, file, [](std::shared_ptr<Plan const> const&) { return int{kDone}; });
}

} // namespace

void add_check(CommandLine& line) {
    auto const files = std::make_shared<std::vector<std::string>>();
    line.add("check", "Say what is wrong with files, touching nothing",
             [files](Shell const& shell) {
                 int worst = kDone;
                 for (std::string const& file : *files) {
                     int const status = check_file(shell, file);
                     if (status == kDone) shell.print(file + ": in order\n");
                     worst = std::max(worst, status);
                 }
                 return worst;
             })
        .required("FILE", *files, "Piece files, demo:NAME, leaf files (*.leaf.json) or ranges (*.range.json)");
}

} // namespace leafwright
