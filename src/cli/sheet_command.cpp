#include "cli/commands.h"
#include "piece/fields.h"
#include "piece/piece_json.h"
#include "piece/second_half.h"
#include "sheet/making_sheet.h"
#include "view/picture.h"

#include <cctype>
#include <set>

namespace leafwright {

namespace {

struct Arguments {
    std::string piece;
    std::string out;
    SheetArguments sheet;
};

// The sheet goes without a picture where none can be drawn.
std::optional<SheetPicture> picture_for(std::shared_ptr<Plan const> const& plan) {
    PictureRequest request;
    request.width_px = 1200;
    request.height_px = 900;
    Outcome<Picture> picture = draw_picture(plan, request);
    if (!picture) return {};
    return SheetPicture{picture->width_px, picture->height_px, std::move(picture->rgb)};
}

int write_one(Shell const& shell, std::filesystem::path const& path, std::string_view bytes) {
    MaybeProblem const problem = write_file(path, bytes);
    return problem ? shell.complain(path.string(), *problem) : int{kDone};
}

} // namespace

std::string file_name_of(std::string_view words) {
    std::string name;
    for (char const c : words) {
        bool const plain = std::isalnum(static_cast<unsigned char>(c)) != 0;
        if (plain)
            name += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        else if (!name.empty() && name.back() != '-')
            name += '-';
    }
    while (name.ends_with('-')) name.pop_back();
    return name.empty() ? "piece" : name;
}

int write_sheet(Shell const& shell, std::shared_ptr<Plan const> const& plan, SheetArguments const& arguments,
                std::filesystem::path const& folder) {
    if (arguments.paper != "a4" && arguments.paper != "letter")
        return shell.complain("",
                              {"word", "--paper", "is " + quoted_word(arguments.paper) + "; known are a4, letter", ""});
    if (MaybeProblem const problem = make_folder(folder)) return shell.complain(folder.string(), *problem);
    SheetOptions options;
    options.paper = arguments.paper == "letter" ? kLetter : kA4;
    options.inches = arguments.inches;
    options.picture = picture_for(plan);
    Task task;
    options.second = plan_second_half(plan, task);
    std::string const name = file_name_of(plan->piece.name);
    int status = write_one(shell, folder / (name + "-making-sheet.pdf"), making_sheet_pdf(*plan, options));
    std::set<std::string> taken;
    for (auto const& pattern : plan->patterns) {
        std::string leaf = name + "-leaf-" + file_name_of(pattern->spec.id);
        while (!taken.insert(leaf).second) leaf += "-again";
        if (status == kDone) status = write_one(shell, folder / (leaf + ".svg"), leaf_template_svg(*pattern));
    }
    return status;
}

void add_sheet(CommandLine& line) {
    auto const arguments = std::make_shared<Arguments>();
    auto const run = [arguments](Shell const& shell) {
        return with_plan(shell, arguments->piece, [&](std::shared_ptr<Plan const> const& plan) {
            return write_sheet(shell, plan, arguments->sheet, arguments->out);
        });
    };
    line.add("sheet", "The making sheet (PDF) and leaf templates at true size (SVG)", run)
        .required("PIECE", arguments->piece, "A piece file, or demo:NAME")
        .required("--out", arguments->out, "The folder to write to; made when it is missing")
        .text("--paper", arguments->sheet.paper, "a4 (usual) or letter")
        .flag("--inches", arguments->sheet.inches, "Inches and pounds");
}

} // namespace leafwright
