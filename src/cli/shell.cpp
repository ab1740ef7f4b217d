#include "cli/shell.h"

#include "piece/piece_json.h"
#include "piece/planner.h"

#include <algorithm>
#include <cstring>
#include <iostream>

namespace leafwright {

void Shell::print(std::string_view text) const { std::cout << text; }

int Shell::complain(std::string_view file, Problem const& problem) const {
    std::cout.flush();
    std::cerr << "leafwright: ";
    if (!file.empty()) std::cerr << file << ": ";
    std::cerr << problem.sentence() << '\n';
    return problem.kind == ProblemKind::refusal ? kRefusal : kBadInput;
}

int Shell::finish(int status) const {
    std::cout.flush();
    if (std::cout.good()) return status;
    Problem const lost{"file.write", "", "cannot be written", "Make room, or send the output elsewhere"};
    return complain("standard output", lost);
}

Outcome<Piece> open_piece(std::string const& name) {
    constexpr std::string_view kDemo = "demo:";
    if (name.starts_with(kDemo)) return demo_piece(std::string_view(name).substr(kDemo.size()));
    return load_piece(name);
}

MaybeProblem make_folder(std::filesystem::path const& folder) {
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    if (std::filesystem::is_directory(folder)) return {};
    return Problem{"file.write", "",
                   "the folder cannot be made: " + (error ? error.message() : "a file is in its place"),
                   "Choose another place"};
}

int with_plan(Shell const& shell, std::string const& name,
              std::function<int(std::shared_ptr<Plan const>)> const& work) {
    Outcome<Piece> const piece = open_piece(name);
    if (!piece) return shell.complain(name, piece.problem());
    Planner planner;
    Outcome<std::shared_ptr<Plan const>> const plan = planner.plan(*piece);
    if (!plan) return shell.complain(name, plan.problem());
    int const status = work(*plan);
    if (!(*plan)->slab->too_wide) return status;
    return std::max(status, shell.complain(name, *(*plan)->slab->too_wide));
}

int tell_refusal(Shell const& shell, std::string const& file, std::span<Warning const> warnings) {
    for (Warning const& warning : warnings) {
        if (!warning.refusal) continue;
        std::string const text = warning.text.substr(0, warning.text.size() - 1);
        std::string const hint = warning.hint.substr(0, warning.hint.size() - 1);
        return shell.complain(file, {warning.code, warning.stage, text, hint, ProblemKind::refusal});
    }
    return kDone;
}

} // namespace leafwright
