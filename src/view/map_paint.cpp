#include "view/map_paint.h"

#include "piece/map_colour.h"
#include "view/textures.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr int kColours = 256;
constexpr std::size_t kMostLevels = 24; // as in clay.frag
constexpr double kOverClay_mm = 0.6;

GlTexture uploaded(GLint inner, GLenum outer, GLenum type, int columns, int rows, void const* texels) {
    GlTexture texture = make_texture();
    glBindTexture(GL_TEXTURE_2D, texture.name());
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    glTexImage2D(GL_TEXTURE_2D, 0, inner, columns, rows, 0, outer, type, texels);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    return texture;
}

GlTexture colour_texture() {
    std::vector<float> texels;
    for (int i = 0; i < kColours; ++i) {
        Vec3 const c = map_colour(static_cast<double>(i) / (kColours - 1));
        for (int k = 0; k < 3; ++k) texels.push_back(static_cast<float>(c[k]));
    }
    return uploaded(GL_RGB32F, GL_RGB, GL_FLOAT, kColours, 1, texels.data());
}

void bind(int unit, GLuint texture) {
    glActiveTexture(static_cast<GLenum>(GL_TEXTURE0 + unit));
    glBindTexture(GL_TEXTURE_2D, texture);
}

LineSet flat_lines(ShownMap const& map, double top_mm) {
    LineSet lines;
    for (ShownMap::Tick const& tick : map.ticks) {
        LineVertex const run[] = {{floats({tick.from_mm, top_mm}), {}, 0}, {floats({tick.to_mm, top_mm}), {}, 0}};
        lines.add_run(run, false);
    }
    return lines;
}

} // namespace

MapPaint::MapPaint() : colours_(colour_texture()) {}

// Each texel: the value and 1, or nothing at all where there is none, so that a mean of texels tells both.
MapPaint::Sheet MapPaint::sheet_of(ShownMap const& map) {
    std::vector<float> texels;
    texels.reserve(2 * map.values.size());
    for (float const value : map.values) {
        texels.push_back(std::isnan(value) ? 0.0f : value);
        texels.push_back(std::isnan(value) ? 0.0f : 1.0f);
    }
    return {uploaded(GL_RG32F, GL_RG, GL_FLOAT, map.columns, map.rows, texels.data()),
            texture_frame(map.low_mm, map.size_mm)};
}

void MapPaint::show(std::shared_ptr<ShownMap const> map, Plan const* plan, std::shared_ptr<StackField const> over) {
    bool const holds = map && plan && plan->outer_face && map->columns > 1 && map->rows > 1;
    if (!holds) map = nullptr;
    bool const same_place = plan && face_ == plan->outer_face && over_ == over;
    if (map == map_ && (!map || same_place)) return;
    if (map && map != map_) {
        piece_ = sheet_of(*map);
        flat_ = map->flat_slab ? sheet_of(*map->flat_slab) : Sheet{};
    }
    map_ = std::move(map);
    face_ = plan ? plan->outer_face : nullptr;
    over_ = std::move(over);
    if (map_) set_ticks(*plan);
}

void MapPaint::set_ticks(Plan const& plan) {
    LineSet lines;
    for (ShownMap::Tick const& tick : map_->ticks) {
        std::vector<LineVertex> run;
        for (double const t : {0.0, 0.5, 1.0}) {
            Vec2 const p = (1 - t) * tick.from_mm + t * tick.to_mm;
            LaidPoint const at = plan.outer_face->at_chart(p);
            double const height = kOverClay_mm + (over_ ? over_->height.at(p) : 0.0);
            run.push_back({floats(at.position + height * at.normal), floats({at.chart, height}), 0});
        }
        lines.add_run(run, false);
    }
    ticks_.update(lines);
    double const top = plan.piece.slab.thickness_mm + kOverClay_mm;
    flat_ticks_.update(map_->flat_slab ? flat_lines(*map_->flat_slab, top) : LineSet{});
}

void MapPaint::set(Program const& clay, On on, int unit, float pixel_scale) const {
    Sheet const& sheet = on == On::flat_slab ? flat_ : piece_;
    bool const coloured = map_ && on != On::nothing && sheet.values.name() != 0;
    clay.set("map_values", unit);
    clay.set("map_colours", unit + 1);
    bind(unit, coloured ? sheet.values.name() : colours_.name());
    bind(unit + 1, colours_.name());
    clay.set("map_strength", coloured ? 1.0f : 0.0f);
    if (!coloured) return;
    clay.set("map_frame", sheet.frame);
    double const span = map_->scale_high - map_->scale_low;
    clay.set("map_scale", glm::vec2(map_->scale_low, span > 0 ? 1 / span : 0.0));
    std::vector<float> levels(map_->levels.begin(), map_->levels.end());
    levels.resize(std::min(levels.size(), kMostLevels));
    clay.set("map_level_count", static_cast<int>(levels.size()));
    clay.set("map_levels", std::span<float const>(levels));
    clay.set("map_line_px", 1.5f * pixel_scale);
}

} // namespace leafwright
