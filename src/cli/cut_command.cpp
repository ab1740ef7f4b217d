#include "cli/commands.h"
#include "piece/cutting_plan.h"
#include "piece/fields.h"
#include "piece/piece_json.h"
#include "sheet/cutting_sheets.h"
#include "sheet/words.h"

#include <chrono>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

struct Arguments {
    std::string piece;
    std::string out;
    double seconds = -1;
    std::optional<std::uint64_t> seed;
    CutArguments cut;
};

std::string report(CuttingAnswer const& answer, bool inches) {
    UnitWords const words{inches};
    std::string text = fmt::format("{}\n\n", answer.plan->piece.name);
    for (CutSheet const& sheet : answer.sheets) {
        std::string const thick =
            inches ? fmt::format("{:.2f} in", sheet.thickness_mm / 25.4) : fmt::format("{:g} mm", sheet.thickness_mm);
        std::string const size =
            inches ? fmt::format("{:.1f} x {:.1f} in", sheet.size_mm.x / 25.4, sheet.size_mm.y / 25.4)
                   : fmt::format("{:.0f} x {:.0f} mm", std::ceil(sheet.size_mm.x), std::ceil(sheet.size_mm.y));
        text += fmt::format("  Sheet {:<3} {:>8} thick  {:>14}  {:>4} used  {}\n", sheet.number, thick, size,
                            percent(sheet.cut_mm2 / sheet.rolled_mm2()), contents_words(answer, sheet));
    }
    auto const line = [&](char const* name, std::string const& value) {
        text += fmt::format("  {:<22}{}\n", name, value);
    };
    text += '\n';
    line("Clay to roll", words.mass(answer.rolled_g));
    line("becomes pieces", fmt::format("{}, {} of the area ({} at first)", words.mass(answer.cut_g.value),
                                       percent(answer.density, 1), percent(answer.first_density, 1)));
    line("Offcut to reclaim", words.mass(answer.offcut_g.value));
    if (answer.beside_slab > 0) line("Beside the slab", fmt::format("{} leaves", answer.beside_slab));
    line("Clay to knead", fmt::format("{} with these sheets", words.mass(answer.clay.knead_g)));
    for (Warning const& warning : answer.warnings)
        if (!warning.refusal) text += fmt::format("  {}: {} {}\n", warning.stage, warning.text, warning.hint);
    return text;
}

int run(Shell const& shell, Arguments const& arguments) {
    if (arguments.cut.paper != "a4" && arguments.cut.paper != "letter")
        return shell.complain(
            "", {"word", "--paper", "is " + quoted_word(arguments.cut.paper) + "; known are a4, letter", ""});
    return with_plan(shell, arguments.piece, [&](std::shared_ptr<Plan const> const& plan) {
        CuttingOptions options;
        options.seconds = arguments.seconds;
        options.seed = arguments.seed;
        Task task;
        std::shared_ptr<CuttingAnswer const> const answer = plan_cutting(plan, options, task);
        shell.print(report(*answer, arguments.cut.inches));
        int status = kDone;
        if (!arguments.out.empty()) status = write_cutting(shell, *answer, arguments.cut, arguments.out);
        return status != kDone ? status : tell_refusal(shell, arguments.piece, answer->warnings);
    });
}

} // namespace

int write_cutting(Shell const& shell, CuttingAnswer const& answer, CutArguments const& arguments,
                  std::filesystem::path const& folder) {
    // All of it is made before anything is written.
    std::string const name = file_name_of(answer.plan->piece.name);
    std::vector<std::pair<std::string, std::string>> files;
    CuttingPaperOptions options;
    options.paper = arguments.paper == "letter" ? kLetter : kA4;
    options.inches = arguments.inches;
    files.emplace_back(name + "-cutting.pdf", cutting_pdf(answer, options));
    for (CutSheet const& sheet : answer.sheets)
        files.emplace_back(fmt::format("{}-sheet-{}.svg", name, sheet.number), cut_sheet_svg(answer, sheet));
    files.emplace_back(name + "-cutting.json", cutting_to_json(answer));
    if (MaybeProblem const problem = make_folder(folder)) return shell.complain(folder.string(), *problem);
    for (auto const& [file, bytes] : files)
        if (MaybeProblem const problem = write_file(folder / file, bytes))
            return shell.complain((folder / file).string(), *problem);
    return kDone;
}

void add_cut(CommandLine& line) {
    auto const arguments = std::make_shared<Arguments>();
    line.add("cut", "Nest slab, leaves and strips on rolled sheets; SVG and PDF at 1:1",
             [arguments](Shell const& shell) { return run(shell, *arguments); })
        .required("PIECE", arguments->piece, "A piece file, or demo:NAME")
        .text("--out", arguments->out, "The folder to write sheets to; made when it is missing")
        .number("--seconds", arguments->seconds, "How long the sheets are improved; 0: the first layout", {0, 3600})
        .whole("--seed", arguments->seed, "Another number, another layout")
        .text("--paper", arguments->cut.paper, "a4 (usual) or letter")
        .flag("--inches", arguments->cut.inches, "Inches and pounds");
}

} // namespace leafwright
