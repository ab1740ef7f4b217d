#include "cli/commands.h"

#include <CLI/CLI.hpp>
#include <algorithm>

namespace leafwright {

void add_check(CLI::App& app, Chosen& chosen) {
    auto const files = std::make_shared<std::vector<std::string>>();
    CLI::App* const command = app.add_subcommand("check", "Say what is wrong with files, touching nothing");
    command->add_option("FILE", *files, "Piece files, or demo:NAME")->required();
    command->callback([files, &chosen] {
        chosen.run = [files](Shell const& shell) {
            int worst = kDone;
            for (std::string const& file : *files) {
                int const status =
                    with_plan(shell, file, [](std::shared_ptr<Plan const> const&) { return int{kDone}; });
                if (status == kDone) shell.print(file + ": in order\n");
                worst = std::max(worst, status);
            }
            return worst;
        };
    });
}

} // namespace leafwright
