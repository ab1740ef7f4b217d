#include "cli/commands.h"
#include "piece/piece_json.h"
#include "piece/planner.h"

#include <fmt/format.h>

namespace leafwright {

namespace {

struct Arguments {
    std::string piece;
    std::string out;
    std::optional<std::uint64_t> seed;
};

std::string result_words(LayResult const& result) {
    std::string text =
        fmt::format("{} leaves in {} row{}, ", result.leaves.size(), result.rows, result.rows == 1 ? "" : "s");
    text += result.bare_mm2 <= 1 ? "no bare clay\n" : fmt::format("{:.0f} mm² of clay bare\n", result.bare_mm2);
    for (Problem const& remark : result.remarks) text += "  " + remark.sentence() + '\n';
    return text;
}

int run(Shell const& shell, Arguments const& arguments) {
    Outcome<Piece> piece = open_piece(arguments.piece);
    if (!piece) return shell.complain(arguments.piece, piece.problem());
    if (arguments.seed) piece->seed = *arguments.seed;
    Task task;
    Outcome<LaidRows> const laid = lay_piece(*piece, task);
    if (!laid) return shell.complain(arguments.piece, laid.problem());
    if (MaybeProblem const problem = save_piece(arguments.out, laid->piece))
        return shell.complain(arguments.out, *problem);
    shell.print(result_words(laid->result));
    return kDone;
}

} // namespace

void add_lay(CommandLine& line) {
    auto const arguments = std::make_shared<Arguments>();
    line.add("lay", "Lay rows of leaves from the edge inward; pinned leaves stay",
             [arguments](Shell const& shell) { return run(shell, *arguments); })
        .required("PIECE", arguments->piece, "A piece file, or demo:NAME")
        .required("--out", arguments->out, "Where to save the piece with its leaves")
        .whole("--seed", arguments->seed, "Another number, another arrangement");
}

} // namespace leafwright
