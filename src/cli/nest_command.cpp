#include "cli/commands.h"
#include "cutting/nest_file.h"
#include "piece/piece_json.h"

#include <fmt/format.h>

namespace leafwright {

namespace {

struct Arguments {
    std::string file;
    double seconds = 10;
    double threads = 2;
    std::optional<std::uint64_t> seed;
    double rounds = 0;
    std::string json;
    std::string svg;
};

std::string report_of(NestFile const& file, NestResult const& result, std::vector<std::string> const& faults) {
    std::string text = file.name.empty() ? std::string() : file.name + "\n";
    text += fmt::format("  {:<12}{} placed", "Pieces", result.placements.size());
    text += result.unplaced.empty() ? "\n" : fmt::format(", {} found no room\n", result.unplaced.size());
    text += fmt::format("  {:<12}{:.10g}\n", "Width", file.job.sheets.width_mm);
    if (result.used_mm.size() > 1) text += fmt::format("  {:<12}{}\n", "Sheets", result.used_mm.size());
    text +=
        fmt::format("  {:<12}{:.6f}\n  {:<12}{:.3f} %\n", "Length", result.length_mm, "Density", 100 * result.density);
    text += fmt::format("  {:<12}{}\n", "Validity",
                        faults.empty() ? "valid: no overlap, within the sheet, turns as allowed"
                                       : "NOT VALID: " + faults.front());
    return text + fmt::format("  {:<12}{:.2f} s, {} rounds, {} places tried\n", "Time", result.seconds, result.rounds,
                              result.samples);
}

int run(Shell const& shell, Arguments const& arguments) {
    Outcome<std::string> const text = read_file(arguments.file);
    if (!text) return shell.complain(arguments.file, text.problem());
    Outcome<NestFile> const file = nest_file_from_json(*text);
    if (!file) return shell.complain(arguments.file, file.problem());
    NestOptions options;
    options.seconds = arguments.seconds;
    options.threads = static_cast<int>(arguments.threads);
    options.rounds = static_cast<int>(arguments.rounds);
    options.seed = arguments.seed.value_or(1);
    Outcome<NestResult> const result = nest(file->job, options);
    if (!result) return shell.complain(arguments.file, result.problem());
    std::vector<std::string> const faults = nest_faults(file->job, *result);
    if (arguments.json == "-")
        shell.print(nest_to_json(*file, *result));
    else
        shell.print(report_of(*file, *result, faults));
    if (!arguments.json.empty() && arguments.json != "-")
        if (MaybeProblem const problem = write_file(arguments.json, nest_to_json(*file, *result)))
            return shell.complain(arguments.json, *problem);
    if (!arguments.svg.empty())
        if (MaybeProblem const problem = write_file(arguments.svg, nest_to_svg(file->job, *result)))
            return shell.complain(arguments.svg, *problem);
    if (!result->unplaced.empty())
        return shell.complain(arguments.file,
                              {"nest.room", "",
                               fmt::format("{} pieces found no room on the sheets", result->unplaced.size()),
                               "Allow more or larger sheets", ProblemKind::refusal});
    return faults.empty() ? kDone : kRefusal;
}

} // namespace

void add_nest(CommandLine& line) {
    auto const arguments = std::make_shared<Arguments>();
    line.add("nest", "Lay any polygons on a strip or on sheets with as little waste as can be found",
             [arguments](Shell const& shell) { return run(shell, *arguments); })
        .required("FILE", arguments->file, "Items with outlines, as JSON")
        .number("--seconds", arguments->seconds, "Time to improve the layout in", {0, 86400})
        .whole("--seed", arguments->seed, "Another seed, another layout")
        .number("--threads", arguments->threads, "Threads", {1, 64})
        .number("--rounds", arguments->rounds,
                "Improve for so many rounds instead, which gives the same layout each time", {0, 1e6})
        .text("--json", arguments->json, "Write the placements to this file as JSON; - is standard output")
        .text("--svg", arguments->svg, "Write a picture of the layout to this file");
}

} // namespace leafwright
