#include "cli/commands.h"
#include "leaf/leaf_measures.h"
#include "leaf/svg_leaves.h"
#include "piece/json_text.h"
#include "piece/leaf_file.h"
#include "piece/piece_json.h"

#include <fmt/format.h>

#include <charconv>
#include <optional>
#include <tuple>

namespace leafwright {

namespace {

struct Arguments {
    std::string drawing;
    std::string out;
    std::string json;
    std::string name;
    std::string base;
    std::string tip;
    double length_mm = 0;
    double dpi = 0;
};

// "x,y"; nothing when it is anything else.
std::optional<Vec2> place_of(std::string const& text) {
    Vec2 place{0, 0};
    char const* const end = text.data() + text.size();
    auto const x = std::from_chars(text.data(), end, place.x);
    if (x.ec != std::errc() || x.ptr == end || *x.ptr != ',') return std::nullopt;
    char const* next = x.ptr + 1;
    while (next < end && *next == ' ') ++next;
    auto const y = std::from_chars(next, end, place.y);
    if (y.ec != std::errc() || y.ptr != end) return std::nullopt;
    return place;
}

// hazel.leaf.json; of several: hazel-1.leaf.json, hazel-2.leaf.json.
std::filesystem::path file_of(std::string out, std::size_t index, std::size_t count) {
    constexpr std::string_view kEnding = ".leaf.json";
    std::string ending;
    if (out.ends_with(kEnding)) {
        ending = kEnding;
        out.resize(out.size() - kEnding.size());
    } else if (std::string const last = std::filesystem::path(out).extension(); last == ".json") {
        ending = last;
        out.resize(out.size() - last.size());
    }
    return count > 1 ? fmt::format("{}-{}{}", out, index + 1, ending) : out + ending;
}

std::string report_of(OwnLeaf const& leaf, LeafMeasures const& m) {
    return fmt::format(
        "{}: {:.1f} x {:.1f} mm, area {:.1f} mm², edge {:.1f} mm, shape factor {:.3f}, {}, {} margin, {} tip, {}{}\n",
        leaf.name, m.length_mm, m.width_mm, m.area_mm2, m.perimeter_mm, m.shape_factor, m.shape, m.margin, m.apex,
        m.size, leaf.outline_mm.holes.empty() ? "" : fmt::format(", {} holes", leaf.outline_mm.holes.size()));
}

JsonText json_of(OwnLeaf const& leaf, LeafMeasures const& m, std::string const& file) {
    JsonText one = JsonText::object();
    one.add("id", JsonText::text(leaf.id)).add("file", JsonText::text(file));
    one.add("length_mm", JsonText::number(m.length_mm)).add("width_mm", JsonText::number(m.width_mm));
    one.add("area_mm2", JsonText::number(m.area_mm2)).add("perimeter_mm", JsonText::number(m.perimeter_mm));
    one.add("shape_factor", JsonText::number(m.shape_factor)).add("shape", JsonText::text(m.shape));
    one.add("apex", JsonText::text(m.apex)).add("base", JsonText::text(m.base)).add("size", JsonText::text(m.size));
    one.add("margin", JsonText::text(m.margin)).add("teeth", JsonText::whole(m.teeth));
    one.add("stalk_mm", JsonText::number(leaf.stalk_mm));
    one.add("holes", JsonText::whole(static_cast<std::int64_t>(leaf.outline_mm.holes.size())));
    return one;
}

int run(Shell const& shell, Arguments const& arguments) {
    Outcome<std::string> const text = read_file(arguments.drawing);
    if (!text) return shell.complain(arguments.drawing, text.problem());
    SvgLeafOptions options;
    if (arguments.length_mm > 0) options.length_mm = arguments.length_mm;
    options.dpi = arguments.dpi;
    for (auto const& [key, text_of, place] : {std::tuple{"--base", &arguments.base, &options.base_mm},
                                              std::tuple{"--tip", &arguments.tip, &options.tip_mm}}) {
        if (text_of->empty()) continue;
        *place = place_of(*text_of);
        if (!*place)
            return shell.complain(
                "", {"syntax", key, "must be a place in mm from the page's upper left corner", "Such as \"60,140\""});
    }
    Outcome<SvgLeaves> found = leaves_of_svg(*text, options);
    if (!found) return shell.complain(arguments.drawing, found.problem());

    std::string const name =
        arguments.name.empty() ? std::filesystem::path(arguments.drawing).stem().string() : arguments.name;
    std::string report;
    JsonText list = JsonText::list();
    for (std::size_t i = 0; i < found->leaves.size(); ++i) {
        OwnLeaf& leaf = found->leaves[i];
        leaf.name = found->leaves.size() > 1 ? fmt::format("{} {}", name, i + 1) : name;
        leaf.id = leaf_id_of(leaf.name);
        std::filesystem::path const file = file_of(arguments.out, i, found->leaves.size());
        if (MaybeProblem const problem = save_own_leaf(file, leaf)) return shell.complain(file.string(), *problem);
        LeafMeasures const m = measures(leaf);
        report += report_of(leaf, m);
        JsonText one = json_of(leaf, m, file.string());
        for (std::size_t end = 0; end < 2; ++end)
            one.add(end == 0 ? "base_mm" : "tip_mm", std::move(JsonText::list()
                                                                   .add(JsonText::number(found->ends_mm[i][end].x))
                                                                   .add(JsonText::number(found->ends_mm[i][end].y))));
        list.add(std::move(one));
    }
    JsonText remarks = JsonText::list();
    for (std::string const& remark : found->remarks) {
        report += "  " + remark + '\n';
        remarks.add(JsonText::text(remark));
    }
    if (arguments.json != "-") shell.print(report);
    if (arguments.json.empty()) return kDone;
    JsonText all = JsonText::object();
    all.add("leaves", std::move(list)).add("dpi", JsonText::number(found->dpi)).add("remarks", std::move(remarks));
    if (arguments.json == "-") {
        shell.print(all.str());
        return kDone;
    }
    if (MaybeProblem const problem = write_file(arguments.json, all.str()))
        return shell.complain(arguments.json, *problem);
    return kDone;
}

} // namespace

void add_outline(CommandLine& line) {
    auto const arguments = std::make_shared<Arguments>();
    line.add("outline", "Leaf outlines in mm from an SVG drawing",
             [arguments](Shell const& shell) { return run(shell, *arguments); })
        .required("SVG", arguments->drawing, "The drawing")
        .required("--out", arguments->out, "The leaf file to write (*.leaf.json); several leaves: NAME-1, NAME-2, ...")
        .number("--length-mm", arguments->length_mm, "Length of the largest leaf, where the drawing tells no size",
                {4, 1500})
        .number("--dpi", arguments->dpi, "User units to the inch, 90 or 96, where the drawing tells pixels alone",
                {72, 200})
        .text("--base", arguments->base, "The largest leaf's foot, \"x,y\" in mm of the page, where the guess is wrong")
        .text("--tip", arguments->tip, "and its tip")
        .text("--name", arguments->name, "What the leaf is called; else the drawing's name")
        .text("--json", arguments->json, "Write the measures as JSON (- = standard output)");
}

} // namespace leafwright
