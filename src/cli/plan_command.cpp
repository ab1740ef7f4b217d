#include "cli/commands.h"
#include "piece/cutting_plan.h"
#include "piece/piece_json.h"
#include "piece/planner.h"
#include "piece/second_half.h"

namespace leafwright {

namespace {

struct Arguments {
    std::string piece;
    std::string json;
    bool inches = false;
};

int run(Shell const& shell, Arguments const& arguments) {
    return with_plan(shell, arguments.piece, [&](std::shared_ptr<Plan const> const& plan) {
        Task task;
        std::shared_ptr<SecondHalf const> const second = plan_second_half(plan, task);
        if (arguments.json == "-") {
            shell.print(plan_to_json(*plan, *second, *plan_cutting_briefly(plan, task)));
            return tell_refusal(shell, arguments.piece, second->warnings);
        }
        shell.print(report_of(*plan, arguments.inches) + report_of(*second));
        if (!arguments.json.empty())
            if (MaybeProblem const problem =
                    write_file(arguments.json, plan_to_json(*plan, *second, *plan_cutting_briefly(plan, task))))
                return shell.complain(arguments.json, *problem);
        return tell_refusal(shell, arguments.piece, second->warnings);
    });
}

} // namespace

void add_plan(CommandLine& line) {
    auto const arguments = std::make_shared<Arguments>();
    line.add("plan", "The key figures: clay to knead, slab, leaves, weights",
             [arguments](Shell const& shell) { return run(shell, *arguments); })
        .required("PIECE", arguments->piece, "A piece file, or demo:NAME")
        .text("--json", arguments->json, "Write every figure to this file as JSON; - is standard output")
        .flag("--inches", arguments->inches, "Inches and pounds");
}

} // namespace leafwright
