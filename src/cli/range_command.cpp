#include "cli/commands.h"
#include "cli/range_input.h"
#include "piece/fields.h"
#include "piece/piece_json.h"
#include "range/range_file.h"
#include "range/range_plan.h"
#include "sheet/range_pages.h"
#include "view/wall_picture.h"

#include <fmt/format.h>

namespace leafwright {

namespace {

struct Arguments {
    std::string range;
    std::string out;
    std::string json;
    std::string paper = "a4";
    bool inches = false;
};

// One of each entry, with its name under it. Nothing where no picture can be drawn; the reason goes into `why`.
std::optional<Picture> wall_picture(RangePlan const& plan, bool inches, std::string& why) {
    std::vector<std::shared_ptr<Plan const>> plans;
    for (RangeEntry const& entry : plan.entries) plans.push_back(entry.plan);
    Outcome<WallPicture> wall = draw_wall(plans, {});
    if (!wall) {
        why = wall.problem().sentence();
        return {};
    }
    std::vector<WallLabel> labels;
    for (std::size_t e = 0; e < plan.entries.size(); ++e) {
        RangeEntry const& entry = plan.entries[e];
        WallPlace const& place = wall->places[e];
        labels.push_back({{place.middle_px.x, place.foot_px},
                          entry.copies == 1 ? entry.name : fmt::format("{} x {}", entry.name, entry.copies)});
    }
    Picture& picture = wall->picture;
    draw_wall_labels(labels, wall->px_per_mm, inches, picture.width_px, picture.height_px, picture.rgb);
    return std::move(picture);
}

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
    RangePaperOptions paper;
    paper.paper = arguments.paper == "letter" ? kLetter : kA4;
    paper.inches = arguments.inches;
    std::string why;
    std::optional<Picture> const wall = wall_picture(plan, arguments.inches, why);
    if (wall) {
        write("range.png", png_of(*wall));
        paper.wall = SheetPicture{wall->width_px, wall->height_px, wall->rgb};
    } else if (arguments.json != "-") {
        shell.print("\nNo picture: " + why + '\n');
    }
    write("range.pdf", range_pdf(plan, paper));
    if (status == kDone && arguments.json != "-")
        shell.print(fmt::format("\nrange.json, calendar.csv, calendar.ics, range.png and range.pdf are in {}\n",
                                arguments.out));
    return status;
}

int run(Shell const& shell, Arguments const& arguments) {
    if (arguments.paper != "a4" && arguments.paper != "letter")
        return shell.complain("",
                              {"word", "--paper", "is " + quoted_word(arguments.paper) + "; known are a4, letter", ""});
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
