#include "cli/commands.h"
#include "piece/cutting_plan.h"
#include "piece/piece_json.h"
#include "piece/planner.h"
#include "piece/second_half.h"

#include <algorithm>
#include <fmt/format.h>

namespace leafwright {

namespace {

struct Arguments {
    std::string piece = "demo:hare";
    std::string out = "demo";
    bool inches = false;
};

struct View {
    char const* file;
    char const* stage;
    char const* look;
    char const* from;
};
constexpr View kViews[] = {{"piece-front.png", "features", "piece", "front"},
                           {"piece-quarter.png", "features", "piece", "quarter"},
                           {"on-the-wall.png", "hang", "piece", "quarter"},
                           {"laid-flat.png", "features", "flat", "front"}};

int write_all(Shell const& shell, std::shared_ptr<Plan const> const& plan, SecondHalf const& second,
              Arguments const& arguments) {
    std::filesystem::path const folder = arguments.out;
    if (MaybeProblem const problem = make_folder(folder)) return shell.complain(arguments.out, *problem);
    int status = kDone;
    Task task;
    for (auto const& [name, text] :
         {std::pair{"plan.json", plan_to_json(*plan, second, *plan_cutting_briefly(plan, task))},
          std::pair{"piece.piece.json", piece_to_json(plan->piece)}})
        if (MaybeProblem const problem = write_file(folder / name, text))
            status = std::max(status, shell.complain((folder / name).string(), *problem));
    status = std::max(status, write_sheet(shell, plan, {"a4", arguments.inches}, folder));
    for (View const& view : kViews) {
        PictureArguments picture;
        picture.stage = view.stage;
        picture.look = view.look;
        picture.from = view.from;
        status = std::max(status, write_picture(shell, plan, picture, folder / view.file));
    }
    if (status == kDone)
        shell.print(fmt::format("\nplan.json, pictures, making sheet and templates are in {}\n", arguments.out));
    return status;
}

} // namespace

void add_demo(CommandLine& line) {
    auto const arguments = std::make_shared<Arguments>();
    auto const run = [arguments](Shell const& shell) {
        return with_plan(shell, arguments->piece, [&](std::shared_ptr<Plan const> const& plan) {
            Task task;
            std::shared_ptr<SecondHalf const> const second = plan_second_half(plan, task);
            shell.print(report_of(*plan, arguments->inches) + report_of(*second));
            return write_all(shell, plan, *second, *arguments);
        });
    };
    line.add("demo", "Plan a piece and write everything about it: JSON, pictures, making sheet", run)
        .text("PIECE", arguments->piece, "A piece file, or demo:NAME; demo:hare is usual")
        .text("--out", arguments->out, "The folder to write to; demo is usual")
        .flag("--inches", arguments->inches, "Inches and pounds");
}

} // namespace leafwright
