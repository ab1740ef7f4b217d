#include "cli/commands.h"
#include "piece/fields.h"
#include "piece/piece_json.h"
#include "piece/shown_maps.h"
#include "sheet/cutting_sheets.h"
#include "sheet/map_legend.h"
#include "view/picture.h"

#include <algorithm>
#include <charconv>

namespace leafwright {

namespace {

struct Arguments {
    std::string piece;
    std::string out;
    PictureArguments picture;
};

Problem no_such_word(char const* option, std::string const& given, std::vector<std::string_view> const& known) {
    return {"word", option, "is " + quoted_word(given) + "; known are " + listed(known), ""};
}

std::optional<int> whole_number(std::string_view text) {
    int value = 0;
    auto const [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size()) return {};
    return value;
}

// "1280x960"
MaybeProblem read_size(std::string const& text, PictureRequest& request) {
    std::size_t const cross = text.find('x');
    std::optional<int> const width = whole_number(std::string_view(text).substr(0, cross));
    std::optional<int> const height =
        cross == std::string::npos ? std::nullopt : whole_number(std::string_view(text).substr(cross + 1));
    if (!width || !height)
        return Problem{"size", "--size", "is " + quoted_word(text) + "; a size is WIDTHxHEIGHT, such as 1280x960", ""};
    request.width_px = *width;
    request.height_px = *height;
    return {};
}

Outcome<PictureRequest> request_of(PictureArguments const& arguments) {
    PictureRequest request;
    std::optional<MakingStage> const stage = making_stage(arguments.stage);
    if (!stage) {
        std::vector<std::string_view> keys;
        keys.reserve(kMakingLine.size());
        for (MakingStage known : kMakingLine) keys.push_back(key(known));
        return no_such_word("--stage", arguments.stage, keys);
    }
    request.options.stage = *stage;
    if (arguments.look != "piece" && arguments.look != "flat" && arguments.look != "cutting")
        return no_such_word("--look", arguments.look, {"piece", "flat", "cutting"});
    request.options.look = arguments.look == "flat"      ? Look::flat
                           : arguments.look == "cutting" ? Look::cutting
                                                         : Look::piece;
    std::optional<HomeView> const from = home_view(arguments.from);
    if (!from) return no_such_word("--from", arguments.from, {"front", "side", "above", "quarter"});
    request.from = *from;
    if (MaybeProblem problem = read_size(arguments.size, request)) return *problem;
    std::vector<std::string_view> const maps = map_keys();
    if (!arguments.map.empty() && std::find(maps.begin(), maps.end(), arguments.map) == maps.end())
        return no_such_word("--map", arguments.map, maps);
    request.options.map_ticks = arguments.ticks;
    request.options.laid = arguments.laid;
    return request;
}

// The cutting sheets as first laid out: the same piece gives the same picture.
int write_sheets_picture(Shell const& shell, std::shared_ptr<Plan const> const& plan, PictureRequest const& request,
                         std::filesystem::path const& out) {
    if (MaybeProblem const problem = check_picture_size(request)) return shell.complain("", *problem);
    CuttingOptions options;
    options.seconds = 0;
    Task task;
    SheetPicture sheets = cutting_picture(*plan_cutting(plan, options, task), request.width_px, request.height_px);
    Picture const picture{sheets.width_px, sheets.height_px, std::move(sheets.rgb)};
    MaybeProblem const problem = write_file(out, png_of(picture));
    return problem ? shell.complain(out.string(), *problem) : int{kDone};
}

} // namespace

int write_picture(Shell const& shell, std::shared_ptr<Plan const> const& plan, PictureArguments const& arguments,
                  std::filesystem::path const& out) {
    Outcome<PictureRequest> request = request_of(arguments);
    if (!request) return shell.complain("", request.problem());
    if (request->options.look == Look::cutting) return write_sheets_picture(shell, plan, *request, out);
    request->options.map = shown_map(*plan, arguments.map);
    Outcome<Picture> picture = draw_picture(plan, *request);
    if (!picture) return shell.complain("", picture.problem());
    if (request->options.map)
        draw_map_legend(*request->options.map, picture->width_px, picture->height_px, picture->rgb);
    MaybeProblem const problem = write_file(out, png_of(*picture));
    return problem ? shell.complain(out.string(), *problem) : int{kDone};
}

void add_picture(CommandLine& line) {
    auto const arguments = std::make_shared<Arguments>();
    auto const run = [arguments](Shell const& shell) {
        return with_plan(shell, arguments->piece, [&](std::shared_ptr<Plan const> const& plan) {
            return write_picture(shell, plan, arguments->picture, arguments->out);
        });
    };
    line.add("picture", "A picture of the piece as PNG; needs no screen", run)
        .required("PIECE", arguments->piece, "A piece file, or demo:NAME")
        .required("--out", arguments->out, "The PNG file to write")
        .text("--stage", arguments->picture.stage,
              "knead, roll, drape, leaves, features (usual), dry, first-firing, finish, last-firing, hang")
        .text("--look", arguments->picture.look, "piece (usual), flat or cutting")
        .text("--size", arguments->picture.size, "Pixels, WIDTHxHEIGHT; 1280x960 is usual")
        .text("--from", arguments->picture.from, "front, side, above or quarter (usual)")
        .text("--map", arguments->picture.map, "A figure spread over the clay, such as thickness, stretch or pucker")
        .number("--laid", arguments->picture.laid, "At drape: how far the slab is laid over, 0 (flat) to 1", {0, 1})
        .flag("--ticks", arguments->picture.ticks, "With short lines that tell the map's direction");
}

} // namespace leafwright
