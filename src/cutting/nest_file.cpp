#include "cutting/nest_file.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace leafwright {

namespace {

using Json = nlohmann::json;

constexpr std::size_t kMostBytes = std::size_t{64} << 20;
constexpr int kDeepest = 32;

// Thrown and caught in this file only: the reading is many small steps, any of which may meet a fault.
struct Fault {
    Problem problem;
};

[[noreturn]] void fail(char const* code, std::string where, std::string what, std::string hint) {
    throw Fault{{code, std::move(where), std::move(what), std::move(hint)}};
}

double number_at(Json const& j, std::string const& where) {
    if (!j.is_number()) fail("key", where, "is not a number", "Give a number");
    double const v = j.get<double>();
    if (!std::isfinite(v) || std::abs(v) > 1e12) fail("range", where, "is too large a number", "Give it in mm");
    return v;
}

Json const* member(Json const& j, char const* key) {
    auto const found = j.find(key);
    return found == j.end() || found->is_null() ? nullptr : &*found;
}

Ring ring_at(Json const& j, std::string const& where) {
    if (!j.is_array()) fail("key", where, "is not a list of points", "Give [[x, y], ...]");
    Ring ring;
    for (std::size_t k = 0; k < j.size(); ++k) {
        std::string const at = fmt::format("{}[{}]", where, k);
        if (!j[k].is_array() || j[k].size() < 2) fail("key", at, "is not a point", "Give [x, y]");
        ring.push_back({number_at(j[k][0], at + "[0]"), number_at(j[k][1], at + "[1]")});
    }
    return ring;
}

void holes_at(Json const& j, std::string const& where, Polygon& into) {
    if (!j.is_array()) fail("key", where, "is not a list of holes", "Give [[[x, y], ...], ...]");
    for (std::size_t k = 0; k < j.size(); ++k) into.holes.push_back(ring_at(j[k], fmt::format("{}[{}]", where, k)));
}

Polygon rectangle_at(Json const& j, std::string const& where) {
    auto const value = [&](char const* key, double otherwise) {
        Json const* const m = member(j, key);
        return m ? number_at(*m, where + "." + key) : otherwise;
    };
    double const x = value("x_min", 0), y = value("y_min", 0), w = value("width", 0), h = value("height", 0);
    return {{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, {}};
}

// { "outer": [..], "inner": [..] }, by any of the usual names.
Polygon rings_at(Json const& j, std::string const& where) {
    Polygon polygon;
    for (char const* key : {"outer", "exterior", "points"})
        if (Json const* m = member(j, key); m && polygon.outer.empty()) polygon.outer = ring_at(*m, where + "." + key);
    for (char const* key : {"inner", "interior", "interiors", "holes"})
        if (Json const* m = member(j, key)) holes_at(*m, where + "." + key, polygon);
    if (polygon.outer.empty()) fail("key", where, "has no outline", "Give \"outer\": [[x, y], ...]");
    return polygon;
}

Polygon data_at(Json const& j, std::string const& where);

// A list is a ring of points, or a ring and its holes.
Polygon list_at(Json const& j, std::string const& where) {
    bool const nested = !j.empty() && j[0].is_array() && !j[0].empty() && j[0][0].is_array();
    if (!nested) return {ring_at(j, where), {}};
    Polygon polygon{ring_at(j[0], where + "[0]"), {}};
    for (std::size_t k = 1; k < j.size(); ++k) polygon.holes.push_back(ring_at(j[k], fmt::format("{}[{}]", where, k)));
    return polygon;
}

Polygon data_at(Json const& j, std::string const& where) {
    if (j.is_array()) return list_at(j, where);
    if (!j.is_object()) fail("key", where, "is not an outline", "Give \"data\": [[x, y], ...]");
    return member(j, "x_min") ? rectangle_at(j, where) : rings_at(j, where);
}

Polygon shape_at(Json const& j, std::string const& where) {
    if (j.is_array()) return list_at(j, where);
    if (!j.is_object())
        fail("key", where, "is not a shape",
             "Give \"shape\": { \"type\": \"simple_polygon\", \"data\": [[x, y], ...] }");
    Json const* const type = member(j, "type");
    if (type && !type->is_string()) fail("key", where + ".type", "is not a word", "Give \"simple_polygon\"");
    Json const* const data = member(j, "data");
    if (!data) {
        if (Json const* c = member(j, "coordinates")) return list_at(*c, where + ".coordinates");
        return data_at(j, where);
    }
    if (type && type->get<std::string>() == "multi_polygon") {
        if (!data->is_array() || data->size() != 1)
            fail("key", where + ".data", "has not exactly one polygon", "Give each part as an item of its own");
        return data_at((*data)[0], where + ".data[0]");
    }
    Polygon polygon = data_at(*data, where + ".data");
    if (Json const* h = member(j, "holes")) holes_at(*h, where + ".holes", polygon);
    return polygon;
}

int copies_at(Json const& item, std::string const& where) {
    for (char const* key : {"demand", "quantity", "copies"})
        if (Json const* m = member(item, key)) {
            double const v = number_at(*m, where + "." + key);
            if (v < 0 || v > 10000 || v != std::floor(v))
                fail("range", where + "." + key, fmt::format("is {:g}; it must be a whole number from 0 to 10000", v),
                     "Change this number");
            return static_cast<int>(v);
        }
    return 1;
}

void turns_at(Json const& item, std::string const& where, NestShape& shape) {
    for (char const* key : {"allowed_orientations", "orientations", "allowed_rotations"}) {
        Json const* const m = member(item, key);
        if (!m) continue;
        std::string const at = where + "." + key;
        if (!m->is_array()) fail("key", at, "is not a list of degrees", "Give [0, 180], or leave it out for any turn");
        shape.turns_deg.clear();
        for (std::size_t k = 0; k < m->size(); ++k)
            shape.turns_deg.push_back(number_at((*m)[k], fmt::format("{}[{}]", at, k)));
        if (shape.turns_deg.empty()) shape.turns_deg = {0.0};
        return;
    }
    shape.turn_play_deg = 180;
}

std::string word_at(Json const& item, char const* key) {
    Json const* const m = member(item, key);
    if (m && m->is_string()) return m->get<std::string>();
    return m && m->is_number_integer() ? m->dump() : std::string();
}

NestShape item_at(Json const& item, std::string const& where) {
    if (!item.is_object()) fail("key", where, "is not an item", "Give { \"id\", \"demand\", \"shape\" }");
    NestShape shape;
    std::string const id = word_at(item, "id");
    shape.name = !word_at(item, "name").empty() ? word_at(item, "name") : id.empty() ? where : "item " + id;
    Json const* const outline = member(item, "shape");
    if (!outline) fail("key", where, "has no \"shape\"", "Give its outline");
    shape.outline = shape_at(*outline, where + ".shape");
    shape.copies = copies_at(item, where);
    turns_at(item, where, shape);
    for (char const* key : {"allow_flip", "either_hand"})
        if (Json const* m = member(item, key); m && m->is_boolean()) shape.either_hand = m->get<bool>();
    return shape;
}

double optional_number(Json const& j, std::initializer_list<char const*> keys, double otherwise) {
    for (char const* key : keys)
        if (Json const* m = member(j, key)) return number_at(*m, key);
    return otherwise;
}

NestFile file_of(Json const& j) {
    if (!j.is_object()) fail("key", "", "the file is not a JSON object", "Give { \"strip_height\", \"items\" }");
    NestFile file;
    file.name = word_at(j, "name");
    file.job.sheets.width_mm = optional_number(j, {"strip_height", "strip_width", "width_mm"}, 0);
    if (file.job.sheets.width_mm <= 0)
        fail("key", "strip_height", "is missing or not above 0", "Give the width of the strip in mm");
    file.job.sheets.length_mm = std::max(0.0, optional_number(j, {"length_mm"}, 0));
    file.job.sheets.at_most = static_cast<int>(std::clamp(optional_number(j, {"at_most"}, 0), 0.0, 10000.0));
    file.job.gap_mm = optional_number(j, {"gap_mm"}, 0);
    file.job.edge_gap_mm = optional_number(j, {"edge_gap_mm"}, 0);
    Json const* const items = member(j, "items");
    if (!items || !items->is_array() || items->empty())
        fail("key", "items", "is missing or empty", "Give at least one item");
    for (std::size_t k = 0; k < items->size(); ++k)
        file.job.shapes.push_back(item_at((*items)[k], fmt::format("items[{}]", k)));
    return file;
}

// Depth is bounded before anything is built; the rest of the syntax is the parser's.
MaybeProblem depth_fault(std::string_view text) {
    int depth = 0;
    bool quoted = false;
    for (std::size_t k = 0; k < text.size(); ++k) {
        char const c = text[k];
        if (quoted) {
            if (c == '\\')
                ++k;
            else if (c == '"')
                quoted = false;
        } else if (c == '"')
            quoted = true;
        else if (c == '[' || c == '{') {
            if (++depth > kDeepest)
                return Problem{"too-deep", "", fmt::format("is nested more than {} levels deep", kDeepest),
                               "Give it flatter"};
        } else if (c == ']' || c == '}')
            --depth;
    }
    return {};
}

} // namespace

Outcome<NestFile> nest_file_from_json(std::string_view text) {
    if (text.size() > kMostBytes)
        return Problem{"too-large", "", "is larger than 64 MB", "Give fewer or simpler outlines"};
    if (MaybeProblem p = depth_fault(text)) return *p;
    try {
        return file_of(Json::parse(text));
    } catch (Fault const& fault) {
        return fault.problem;
    } catch (Json::parse_error const& e) {
        auto const upto = text.substr(0, std::min(e.byte, text.size()));
        return Problem{"syntax", fmt::format("line {}", 1 + std::ranges::count(upto, '\n')), "is not JSON",
                       "Correct the text there"};
    } catch (Json::exception const&) {
        return Problem{"syntax", "", "has a number that is too large, or bytes that are not text", "Correct the text"};
    }
}

std::string nest_to_json(NestFile const& file, NestResult const& result) {
    std::string out = "{\n";
    out += fmt::format("  \"leafwright\": \"nest\",\n  \"name\": {},\n",
                       Json(file.name).dump(-1, ' ', true, Json::error_handler_t::replace));
    out += fmt::format("  \"width_mm\": {},\n  \"length_mm\": {},\n  \"density\": {},\n  \"used_mm\": [{}],\n",
                       file.job.sheets.width_mm, result.length_mm, result.density, fmt::join(result.used_mm, ", "));
    out += fmt::format("  \"unplaced\": {},\n  \"placements\": [\n", result.unplaced.size());
    for (std::size_t k = 0; k < result.placements.size(); ++k) {
        NestPlacement const& p = result.placements[k];
        out += fmt::format("    {{ \"shape\": {}, \"copy\": {}, \"sheet\": {}, \"turn_deg\": {}, \"mirrored\": {}, "
                           "\"at_mm\": [{}, {}] }}{}\n",
                           p.shape, p.copy, p.pose.sheet, p.pose.turn_deg, p.pose.mirrored, p.pose.at_mm.x,
                           p.pose.at_mm.y, k + 1 < result.placements.size() ? "," : "");
    }
    return out + "  ]\n}\n";
}

std::string nest_to_svg(NestJob const& job, NestResult const& result) {
    double const width = job.sheets.width_mm;
    double longest = 0;
    for (double used : result.used_mm) longest = std::max(longest, used);
    double const line = width / 400;
    double const step = width * 1.05;
    double const rows = static_cast<double>(std::max<std::size_t>(result.used_mm.size(), 1));
    std::string out = fmt::format("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:.3f}mm\" height=\"{1:.3f}mm\" "
                                  "viewBox=\"{2:.3f} {2:.3f} {0:.3f} {1:.3f}\">\n",
                                  longest + 2 * line, step * rows + 2 * line, -line);
    for (std::size_t s = 0; s < result.used_mm.size(); ++s)
        out += fmt::format("<rect x=\"0\" y=\"{:.3f}\" width=\"{:.3f}\" height=\"{:.3f}\" fill=\"#f4efe6\" "
                           "stroke=\"#555\" stroke-width=\"{:.3f}\"/>\n",
                           step * static_cast<double>(s), result.used_mm[s], width, line);
    for (NestPlacement const& p : result.placements) {
        Polygon const outline = posed(job.shapes[static_cast<std::size_t>(p.shape)].outline, p.pose);
        std::string path;
        auto const add = [&](Ring const& ring) {
            for (std::size_t k = 0; k < ring.size(); ++k)
                path += fmt::format("{}{:.4f} {:.4f}", k == 0 ? "M" : "L", ring[k].x,
                                    step * p.pose.sheet + width - ring[k].y);
            path += "Z";
        };
        add(outline.outer);
        for (Ring const& hole : outline.holes) add(hole);
        out += fmt::format(
            "<path d=\"{}\" fill=\"hsl({} 35% {}%)\" fill-rule=\"evenodd\" stroke=\"#333\" stroke-width=\"{:.3f}\"/>\n",
            path, (p.shape * 67) % 360, 62 + (p.copy % 4) * 4, line * 0.6);
    }
    return out + "</svg>\n";
}

} // namespace leafwright
