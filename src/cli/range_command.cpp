#include "cli/commands.h"
#include "cli/range_input.h"
#include "piece/piece_json.h"
#include "range/range_file.h"
#include "range/range_plan.h"

namespace leafwright {

namespace {

struct Arguments {
    std::string range;
    std::string out;
    std::string json;
    std::string paper = "a4";
    bool inches = false;
};

int write_folder(Shell const& shell, RangePlan const& plan, Arguments const& arguments) {
    std::filesystem::path const folder = arguments.out;
    if (MaybeProblem const problem = make_folder(folder)) return shell.complain(arguments.out, *problem);
    int status = kDone;
    auto const write = [&](char const* name, std::string const& bytes) {
        if (MaybeProblem const problem = write_file(folder / name, bytes))
            status = std::max(status, shell.complain((folder / name).string(), *problem));
    };
    write("range.json", range_plan_to_json(plan));
    write("calendar.csv", calendar_csv(plan));
    write("calendar.ics", calendar_ics(plan));
    return status;
}

int run(Shell const& shell, Arguments const& arguments) {
    Outcome<RangeInput> const input = open_range(arguments.range);
    if (!input) return shell.complain(arguments.range, input.problem());
    Task task;
    Outcome<RangePlan> const plan = plan_range(input->spec, input->pieces, task);
    if (!plan) return shell.complain(arguments.range, plan.problem());
    if (arguments.json == "-") {
        shell.print(range_plan_to_json(*plan));
    } else {
        shell.print(report_of(*plan, arguments.inches));
        if (!arguments.json.empty())
            if (MaybeProblem const problem = write_file(arguments.json, range_plan_to_json(*plan)))
                return shell.complain(arguments.json, *problem);
    }
    int const written = arguments.out.empty() ? int{kDone} : write_folder(shell, *plan, arguments);
    return std::max(written, tell_refusal(shell, arguments.range, plan->warnings));
}

} // namespace

Outcome<RangeInput> open_range(std::string const& name) {
    constexpr std::string_view kDemo = "demo:";
    bool const demo = name.starts_with(kDemo);
    Outcome<RangeSpec> spec = demo ? demo_range(std::string_view(name).substr(kDemo.size())) : load_range(name);
    if (!spec) return spec.problem();
    RangeInput input{std::move(*spec), {}};
    std::filesystem::path const folder = std::filesystem::path(demo ? "" : name).parent_path();
    for (std::size_t i = 0; i < input.spec.pieces.size(); ++i) {
        std::string const& file = input.spec.pieces[i].file;
        Outcome<Piece> piece = open_piece(file.starts_with(kDemo) ? file : (folder / file).string());
        if (!piece) {
            Problem problem = piece.problem();
            problem.where =
                "pieces[" + std::to_string(i) + "].file: " + file + (problem.where.empty() ? "" : ": " + problem.where);
            return problem;
        }
        input.pieces.push_back(std::move(*piece));
    }
    return input;
}

bool is_range_name(std::string const& name) {
    if (name.ends_with(".range.json")) return true;
    for (std::string const& demo : demo_range_names())
        if (name == "demo:" + demo) return true;
    return false;
}

void add_range(CommandLine& line) {
    auto const arguments = std::make_shared<Arguments>();
    line.add("range", "Several pieces side by side: what to get ready, kiln loads, calendar, costs",
             [arguments](Shell const& shell) { return run(shell, *arguments); })
        .required("RANGE", arguments->range, "A range file (*.range.json), or demo:gatehouse")
        .text("--out", arguments->out,
              "Folder for range.json, calendar.csv, calendar.ics, range.png and range.pdf; made when it is missing")
        .text("--json", arguments->json, "Write every figure to this file as JSON; - is standard output")
        .text("--paper", arguments->paper, "a4 (usual) or letter")
        .flag("--inches", arguments->inches, "Inches and pounds");
}

} // namespace leafwright
