#include "cli/commands.h"

#include <algorithm>

namespace leafwright {

void add_check(CommandLine& line) {
    auto const files = std::make_shared<std::vector<std::string>>();
    line.add("check", "Say what is wrong with files, touching nothing",
             [files](Shell const& shell) {
                 int worst = kDone;
                 for (std::string const& file : *files) {
                     int const status =
                         with_plan(shell, file, [](std::shared_ptr<Plan const> const&) { return int{kDone}; });
                     if (status == kDone) shell.print(file + ": in order\n");
                     worst = std::max(worst, status);
                 }
                 return worst;
             })
        .required("FILE", *files, "Piece files, or demo:NAME");
}

} // namespace leafwright
