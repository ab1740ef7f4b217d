#include "cli/commands.h"
#include "piece/piece_json.h"
#include "piece/planner.h"

#include <CLI/CLI.hpp>

namespace leafwright {

namespace {

struct Arguments {
    std::string piece;
    std::string json;
    bool inches = false;
};

int run(Shell const& shell, Arguments const& arguments) {
    return with_plan(shell, arguments.piece, [&](std::shared_ptr<Plan const> const& plan) {
        if (arguments.json == "-") {
            shell.print(plan_to_json(*plan));
            return int{kDone};
        }
        shell.print(report_of(*plan, arguments.inches));
        if (arguments.json.empty()) return int{kDone};
        MaybeProblem const problem = write_file(arguments.json, plan_to_json(*plan));
        return problem ? shell.complain(arguments.json, *problem) : int{kDone};
    });
}

} // namespace

void add_plan(CLI::App& app, Chosen& chosen) {
    auto const arguments = std::make_shared<Arguments>();
    CLI::App* const command = app.add_subcommand("plan", "The key figures: clay to knead, slab, leaves, weights");
    command->add_option("PIECE", arguments->piece, "A piece file, or demo:NAME")->required();
    command->add_option("--json", arguments->json, "Write every figure to this file as JSON; - is standard output");
    command->add_flag("--inches", arguments->inches, "Inches and pounds");
    command->callback(
        [arguments, &chosen] { chosen.run = [arguments](Shell const& shell) { return run(shell, *arguments); }; });
}

} // namespace leafwright
