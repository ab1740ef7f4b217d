#include "cli/commands.h"
#include "leaf/trace.h"
#include "piece/json_text.h"
#include "piece/leaf_file.h"
#include "piece/piece_json.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace leafwright {

namespace {

struct Arguments {
    std::string photo;
    std::string paper;
    double bar_mm = 0;
    double bar_px = 0;
    double dpi = 0;
    std::string corners;
    std::string cuts;
    std::string out;
    std::string json;
    std::string svg;
    std::string name;
    bool keep_stalk = false;
    bool close_holes = false;
    bool odd_too = false;
    bool inches = false;
    double tolerance_mm = 0.15;
    double least_mm2 = 40;
};

// "x,y x,y ...": all points of the text, or none when it is anything else.
std::vector<Vec2> points_of(std::string const& text) {
    std::vector<double> numbers;
    char const* at = text.data();
    char const* const end = text.data() + text.size();
    while (at < end) {
        if (*at == ' ' || *at == ',' || *at == ';') {
            ++at;
            continue;
        }
        double value = 0;
        auto const [next, fault] = std::from_chars(at, end, value);
        if (fault != std::errc()) return {};
        numbers.push_back(value);
        at = next;
    }
    std::vector<Vec2> points;
    for (std::size_t i = 0; i + 1 < numbers.size(); i += 2) points.emplace_back(numbers[i], numbers[i + 1]);
    return numbers.size() % 2 == 0 ? points : std::vector<Vec2>{};
}

Outcome<TraceScale> scale_of(Arguments const& a) {
    int const ways = (a.paper.empty() ? 0 : 1) + (a.bar_mm > 0 || a.bar_px > 0 ? 1 : 0) + (a.dpi > 0 ? 1 : 0);
    if (ways != 1)
        return Problem{"usage", "",
                       ways == 0 ? "needs to know the true size of something"
                                 : "was told the size in more ways than one",
                       "Give one of --paper a4|a5|letter, --bar-mm L with --bar-px N, or --dpi N"};
    TraceScale scale;
    if (a.dpi > 0) {
        scale.from = ScaleFrom::dpi;
        scale.dpi = a.dpi;
        return scale;
    }
    if (a.paper.empty()) {
        scale.from = ScaleFrom::bar;
        scale.bar_mm = a.bar_mm;
        scale.bar_px = a.bar_px;
        return scale;
    }
    if (a.paper != "a4" && a.paper != "a5" && a.paper != "letter")
        return Problem{"word", "--paper", "is \"" + a.paper + "\"; known are a4, a5, letter", ""};
    scale.paper = a.paper == "a4" ? KnownSheet::a4 : (a.paper == "a5" ? KnownSheet::a5 : KnownSheet::letter);
    if (a.corners.empty()) return scale;
    std::vector<Vec2> const corners = points_of(a.corners);
    if (corners.size() != 4)
        return Problem{"syntax", "--corners", "must be four points in pixels",
                       "Such as \"310,220 2190,240 2260,2900 260,2880\""};
    scale.corners_px = {corners[0], corners[1], corners[2], corners[3]};
    return scale;
}

Outcome<TraceOptions> options_of(Arguments const& a) {
    auto const scale = scale_of(a);
    if (!scale) return scale.problem();
    TraceOptions options;
    options.scale = *scale;
    options.keep_stalk = a.keep_stalk;
    options.close_holes = a.close_holes;
    options.tolerance_mm = a.tolerance_mm;
    options.least_leaf_mm2 = a.least_mm2;
    std::vector<Vec2> const cuts = points_of(a.cuts);
    if (cuts.size() % 2 != 0 || (cuts.empty() && !a.cuts.empty()))
        return Problem{"syntax", "--cut", "must be two points in pixels for each line",
                       "Such as \"900,1200 980,1310\""};
    for (std::size_t i = 0; i < cuts.size(); i += 2) options.cuts.push_back({cuts[i], cuts[i + 1]});
    return options;
}

// LEAF for one, LEAF-1, LEAF-2 ... for more; the endings of leaf files are kept.
std::filesystem::path file_of(std::filesystem::path const& out, std::size_t index, std::size_t count) {
    std::string name = out.filename().string();
    std::string ending;
    for (std::string_view const known : {".leaf.json", ".json"})
        if (name.size() > known.size() && name.ends_with(known)) {
            ending = known;
            name.resize(name.size() - known.size());
            break;
        }
    if (ending.empty()) ending = ".leaf.json";
    if (count > 1) name += fmt::format("-{}", index + 1);
    return out.parent_path() / (name + ending);
}

std::string length_text(double mm, bool inches) {
    return inches ? fmt::format("{:.2f} in", mm / 25.4) : fmt::format("{:.1f} mm", mm);
}
std::string area_text(double mm2, bool inches) {
    return inches ? fmt::format("{:.3f} sq in", mm2 / (25.4 * 25.4)) : fmt::format("{:.2f} cm²", mm2 / 100);
}

std::string doubts(TracedLeaf const& leaf) {
    if (leaf.cut_by_edge) return ", cut by the edge: left out";
    if (leaf.straight_edged) return ", straight-edged or grey: not a leaf?";
    if (leaf.faint) return ", hardly any colour: compare it with the leaf";
    if (leaf.glared) return ", mirrored light at its edge: compare it with the leaf";
    if (leaf.several) return ", leaves that touch or lie on each other?";
    return "";
}

std::string report(Trace const& trace, std::vector<std::size_t> const& taken, bool inches) {
    std::string text =
        fmt::format("{} {} traced; lengths within about {:.1f} % ({})\n", taken.size(),
                    taken.size() == 1 ? "leaf" : "leaves", 200 * trace.scale.error, trace.scale.error_from);
    if (trace.scale.tilt_deg > 1)
        text += fmt::format("The camera was tilted by {:.0f} degrees; that is taken out.\n", trace.scale.tilt_deg);
    for (std::size_t k = 0; k < taken.size(); ++k) {
        TracedLeaf const& leaf = trace.leaves[taken[k]];
        text += fmt::format("  {:>2}  length {}, width {}, area {}, edge {}", k + 1,
                            length_text(leaf.length_mm, inches), length_text(leaf.width_mm, inches),
                            area_text(leaf.area_mm2, inches), length_text(leaf.perimeter_mm, inches));
        if (leaf.stalk_mm > 0) text += fmt::format(", stalk {}", length_text(leaf.stalk_mm, inches));
        if (!leaf.outline_mm.holes.empty())
            text +=
                fmt::format(", {} hole{}", leaf.outline_mm.holes.size(), leaf.outline_mm.holes.size() == 1 ? "" : "s");
        text += doubts(leaf) + "\n";
    }
    for (Problem const& remark : trace.remarks) text += remark.sentence() + "\n";
    return text;
}

JsonText points_json(std::vector<Vec2> const& points) {
    JsonText list = JsonText::list();
    for (Vec2 const& p : points) {
        JsonText pair = JsonText::list();
        pair.add(JsonText::number(std::round(p.x * 100) / 100)).add(JsonText::number(std::round(p.y * 100) / 100));
        list.add(pair);
    }
    return list;
}

JsonText leaf_json(TracedLeaf const& leaf, bool taken) {
    JsonText json = JsonText::object();
    json.add("taken", JsonText::flag(taken))
        .add("length_mm", JsonText::number(leaf.length_mm))
        .add("width_mm", JsonText::number(leaf.width_mm))
        .add("area_mm2", JsonText::number(leaf.area_mm2))
        .add("perimeter_mm", JsonText::number(leaf.perimeter_mm))
        .add("stalk_mm", JsonText::number(leaf.stalk_mm))
        .add("holes", JsonText::whole(static_cast<std::int64_t>(leaf.outline_mm.holes.size())))
        .add("points", JsonText::whole(static_cast<std::int64_t>(leaf.outline_mm.outer.size())))
        .add("edge_width_mm", JsonText::number(leaf.edge_mm))
        .add("cut_by_edge", JsonText::flag(leaf.cut_by_edge))
        .add("narrow_necks", JsonText::flag(leaf.several))
        .add("mirrored_light_at_edge", JsonText::flag(leaf.glared))
        .add("hardly_any_colour", JsonText::flag(leaf.faint))
        .add("straight_edged_or_grey", JsonText::flag(leaf.straight_edged))
        .add("base_px", points_json({leaf.base_px}))
        .add("tip_px", points_json({leaf.tip_px}))
        .add("outline_px", points_json(leaf.outline_px.outer));
    return json;
}

std::string trace_json(Trace const& trace, std::vector<std::size_t> const& taken) {
    JsonText scale = JsonText::object();
    scale.add("length_error", JsonText::number(trace.scale.error))
        .add("area_error", JsonText::number(2 * trace.scale.error))
        .add("from", JsonText::text(trace.scale.error_from))
        .add("tilt_deg", JsonText::number(trace.scale.tilt_deg));
    if (trace.scale.corners_px)
        scale.add("corners_px", points_json({trace.scale.corners_px->begin(), trace.scale.corners_px->end()}));
    JsonText leaves = JsonText::list();
    for (std::size_t i = 0; i < trace.leaves.size(); ++i)
        leaves.add(leaf_json(trace.leaves[i], std::find(taken.begin(), taken.end(), i) != taken.end()));
    JsonText remarks = JsonText::list();
    for (Problem const& remark : trace.remarks) remarks.add(JsonText::text(remark.sentence()));
    JsonText stages = JsonText::object();
    for (TraceStage const& stage : trace.stages) stages.add(stage.name, JsonText::number(stage.ms));
    JsonText json = JsonText::object();
    json.add("leafwright", JsonText::text("trace"))
        .add("version", JsonText::whole(1))
        .add("count", JsonText::whole(static_cast<std::int64_t>(taken.size())))
        .add("scale", scale)
        .add("leaves", leaves)
        .add("remarks", remarks)
        .add("stages_ms", stages);
    return json.str();
}

std::string path_of(Ring const& ring, Vec2 const& shift) {
    std::string text;
    for (std::size_t k = 0; k < ring.size(); ++k)
        text += fmt::format("{}{:.3f} {:.3f}", k == 0 ? "M" : " L", ring[k].x + shift.x, shift.y - ring[k].y);
    return text + " Z";
}

// All leaves beside each other at 1:1, tips up.
std::string trace_svg(Trace const& trace, std::vector<std::size_t> const& taken) {
    constexpr double kGap_mm = 5;
    double x = kGap_mm;
    double tall = 0;
    std::string paths;
    for (std::size_t const i : taken) {
        Polygon const& outline = trace.leaves[i].outline_mm;
        Box2 const box = bounds(outline.outer);
        Vec2 const shift{x - box.low.x, kGap_mm + box.high.y};
        std::string d = path_of(outline.outer, shift);
        for (Ring const& hole : outline.holes) d += fmt::format(" {}", path_of(hole, shift));
        paths += fmt::format("  <path fill-rule=\"evenodd\" d=\"{}\"/>\n", d);
        x += box.size().x + kGap_mm;
        tall = std::max(tall, box.size().y);
    }
    return fmt::format("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:.3f}mm\" height=\"{1:.3f}mm\" "
                       "viewBox=\"0 0 {0:.3f} {1:.3f}\" fill=\"#7d9a5b\">\n{2}</svg>\n",
                       x, tall + 2 * kGap_mm, paths);
}

int write_leaves(Shell const& shell, Arguments const& a, Trace const& trace, std::vector<std::size_t> const& taken) {
    std::filesystem::path const out = a.out;
    std::vector<std::string> ids;
    std::string stem = a.name.empty() ? file_of(out, 0, 1).filename().string() : a.name;
    stem = stem.substr(0, stem.find('.'));
    for (std::size_t k = 0; k < taken.size(); ++k) {
        OwnLeaf leaf = own_leaf_of(trace.leaves[taken[k]], trace.scale, a.keep_stalk);
        leaf.name = taken.size() > 1 ? fmt::format("{} {}", stem, k + 1) : stem;
        leaf.id = leaf_id_of(leaf.name, ids);
        ids.push_back(leaf.id);
        std::filesystem::path const file = file_of(out, k, taken.size());
        if (auto const problem = check_leaf_values(leaf)) return shell.complain(file.string(), *problem);
        if (auto const problem = save_own_leaf(file, leaf)) return shell.complain(file.string(), *problem);
    }
    return kDone;
}

int write_other(Shell const& shell, std::string const& file, std::string const& text) {
    if (file.empty()) return kDone;
    if (file == "-") {
        shell.print(text);
        return kDone;
    }
    auto const problem = write_file(file, text);
    return problem ? shell.complain(file, *problem) : kDone;
}

int run(Shell const& shell, Arguments const& a) {
    auto const options = options_of(a);
    if (!options) return shell.complain("", options.problem());
    auto const bytes = read_file(a.photo);
    if (!bytes) return shell.complain(a.photo, bytes.problem());
    auto const photo = read_photo(*bytes);
    if (!photo) return shell.complain(a.photo, photo.problem());
    Task task;
    auto const trace = trace_photo(*photo, *options, task);
    if (!trace) return shell.complain(a.photo, trace.problem());
    std::vector<std::size_t> taken;
    for (std::size_t i = 0; i < trace->leaves.size(); ++i)
        if (trace->leaves[i].looks_sound() || (a.odd_too && !trace->leaves[i].cut_by_edge)) taken.push_back(i);
    if (a.json != "-") shell.print(report(*trace, taken, a.inches));
    if (taken.empty())
        return shell.complain(a.photo,
                              {"trace.none", "", "shows nothing that looks like a whole leaf",
                               "Lay leaves wholly on plain paper; --odd-too takes straight-edged and grey things",
                               ProblemKind::refusal});
    for (int const status :
         {write_leaves(shell, a, *trace, taken), write_other(shell, a.json, trace_json(*trace, taken)),
          write_other(shell, a.svg, trace_svg(*trace, taken))})
        if (status != kDone) return status;
    return kDone;
}

} // namespace

void add_trace(CommandLine& line) {
    auto const a = std::make_shared<Arguments>();
    auto options = line.add("trace", "Leaves at true size from a photograph or scan (JPEG, PNG)",
                            [a](Shell const& shell) { return run(shell, *a); });
    options.required("PHOTO", a->photo, "A photograph or scan: leaves on plain paper")
        .text("--paper", a->paper, "A whole sheet lies under the leaves: a4, a5 or letter")
        .number("--bar-mm", a->bar_mm, "Or: the true length of a bar or ruler in the picture")
        .number("--bar-px", a->bar_px, "and how many pixels long it is there")
        .number("--dpi", a->dpi, "Or: a scan at this many dots per inch");
    options.required("--out", a->out, "The leaf file; several leaves: -1, -2 ... before its ending")
        .text("--corners", a->corners, "The sheet's corners by hand: \"x,y x,y x,y x,y\" in pixels")
        .text("--cut", a->cuts, "Lines that part touching leaves: \"x,y x,y\" in pixels, more after ;")
        .flag("--keep-stalk", a->keep_stalk, "The stalk belongs to the outline")
        .flag("--close-holes", a->close_holes, "Holes are closed; else they stay, as in a bitten leaf")
        .number("--tolerance-mm", a->tolerance_mm, "How far the outline may lie from the edge; 0.15", {0.05, 1})
        .number("--least-mm2", a->least_mm2, "Smaller things are dust; 40 mm2", {1, 100000})
        .flag("--odd-too", a->odd_too, "Straight-edged and grey things too")
        .text("--name", a->name, "What the leaf is called; else the file's name")
        .text("--json", a->json, "The figures as JSON; - for standard output")
        .text("--svg", a->svg, "The outlines at 1:1")
        .flag("--inches", a->inches, "Inches in the report");
}

} // namespace leafwright
