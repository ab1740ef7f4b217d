#include "former/surface.h"

#include "base/units.h"
#include "former/connection_grid.h"
#include "former/meridian_table.h"
#include "former/ray_mesh.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

struct ClaySurface::Data {
    SurfaceOptions options;
    MeridianTable table;
    ConnectionGrid grid;
    RayMesh mesh;
};

namespace {

Vec2 along(double azimuth) { return {std::cos(azimuth), std::sin(azimuth)}; }

LaidPoint laid_point(MeridianPoint const& p, Vec2 const& out) {
    double const q = std::sqrt(2 * std::max(0.0, p.area));
    double const in_plane = std::sqrt(1 - p.normal_round * p.normal_round);
    double const normal_out = -in_plane * p.tangent_up;
    return {q * out,
            {p.rho * out.x, p.rho * out.y, p.z},
            {normal_out * out.x - p.normal_round * out.y, normal_out * out.y + p.normal_round * out.x,
             in_plane * p.tangent_out}};
}

LaidPoint laid_point(MeridianTable const& table, Vec2 const& uv) {
    double const length = std::sqrt(uv.x * uv.x + uv.y * uv.y);
    MeridianPoint const p = table.at(std::atan2(uv.y, uv.x), length);
    return laid_point(p, length > 0 ? uv / length : Vec2(1, 0));
}

GeodesicState advance(ConnectionGrid const& grid, GeodesicState const& s, ConnectionGrid::Symbols const& here,
                      double h) {
    auto const bend = [&](Vec2 const& at, Vec2 const& velocity) {
        return ConnectionGrid::bend(grid.read(at), velocity);
    };
    Vec2 const a1 = ConnectionGrid::bend(here, s.velocity);
    Vec2 const v2 = s.velocity + 0.5 * h * a1;
    Vec2 const a2 = bend(s.at + 0.5 * h * s.velocity, v2);
    Vec2 const v3 = s.velocity + 0.5 * h * a2;
    Vec2 const a3 = bend(s.at + 0.5 * h * v2, v3);
    Vec2 const v4 = s.velocity + h * a3;
    Vec2 const a4 = bend(s.at + h * v3, v4);
    return {s.at + h / 6 * (s.velocity + 2.0 * (v2 + v3) + v4), s.velocity + h / 6 * (a1 + 2.0 * (a2 + a3) + a4)};
}

// The rest of a geodesic that has left the modelled part: a straight line on the board.
Vec2 straight_on_board(MeridianTable const& table, GeodesicState const& s, double rest) {
    Vec3 const from = position_at(table, s.at);
    Vec3 const step = position_at(table, s.at + 0.1 * s.velocity) - from;
    Vec2 const heading = glm::normalize(Vec2(step));
    Vec2 const end = Vec2(from) + rest * heading;
    double const azimuth = std::atan2(end.y, end.x);
    double const beyond = glm::length(end) - table.board_rho_mm(azimuth);
    return std::max(0.0, table.board_from_mm(azimuth) + beyond) * along(azimuth);
}

// The end of a geodesic of that length. `here` is read at its start.
Vec2 shoot(MeridianTable const& table, ConnectionGrid const& grid, GeodesicState state, ConnectionGrid::Symbols here,
           double length) {
    for (double rest = length;;) {
        if (!grid.contains(state.at)) return straight_on_board(table, state, rest);
        // Equal steps for as long as the advice stays the same.
        double const h = rest / std::ceil(rest / ConnectionGrid::step_mm(here));
        state = advance(grid, state, here, h);
        rest -= h;
        if (rest < 1e-9 * length) return state.at;
        here = grid.read(state.at);
    }
}

// The local axes at a spot, in (u, v): along the meridian, and square to it, counter-clockwise from outside.
struct LocalAxes {
    Vec2 outward, round;
};

LocalAxes local_axes(MeridianTable const& table, Vec2 const& uv, double azimuth, double mesh) {
    Vec2 const out = along(azimuth), round(-out.y, out.x);
    auto const at = [&](double steps) { return position_at(table, uv + steps * mesh * round); };
    Vec3 const by_round = (8.0 * (at(1) - at(-1)) - (at(2) - at(-2))) / (12 * mesh);
    MeridianPoint const p = table.at(azimuth, glm::length(uv));
    Vec3 const tangent(p.tangent_out * out.x, p.tangent_out * out.y, p.tangent_up);
    double const skew = glm::dot(by_round, tangent);
    double const square = glm::length(by_round - skew * tangent);
    return {out, (round - skew * out) / square};
}

} // namespace

ClaySurface::ClaySurface(std::shared_ptr<Data const> data) : data_(std::move(data)) {}

ClaySurface ClaySurface::make(Former const& former, SurfaceOptions const& options) {
    SurfaceOptions used = options;
    used.fillet_mm = std::max(3.0, options.fillet_mm);
    MeridianTable table = MeridianTable::build(former, used.offset_mm, used.fillet_mm, used.coarse);
    ConnectionGrid grid = ConnectionGrid::build(table, used.board_mm, used.coarse);
    RayMesh mesh = RayMesh::build(table);
    return ClaySurface(std::make_shared<Data const>(Data{used, std::move(table), std::move(grid), std::move(mesh)}));
}

SurfaceOptions const& ClaySurface::options() const { return data_->options; }
double ClaySurface::area_mm2() const { return data_->table.area_mm2(); }
double ClaySurface::rim_from_crown_mm(double azimuth_rad) const { return data_->table.rim_mm(azimuth_rad); }

Ring ClaySurface::rim_chart(int points) const {
    Ring ring;
    for (int i = 0; i < points; ++i) {
        double const azimuth = kTwoPi * i / points;
        ring.push_back(to_chart({azimuth, rim_from_crown_mm(azimuth)}));
    }
    if (points < 3) return ring;
    // The chords cut off a little; a hair's breadth outward gives the ring the rim's own area.
    double const grow = std::sqrt(area_mm2() / signed_area(ring));
    for (Vec2& p : ring) p *= grow;
    return ring;
}

Vec2 ClaySurface::to_chart(Spot const& spot) const { return at(spot).chart; }

Spot ClaySurface::from_chart(Vec2 const& chart) const {
    double const azimuth = std::atan2(chart.y, chart.x);
    return {azimuth, data_->table.length_at_area(azimuth, 0.5 * glm::dot(chart, chart))};
}

LaidPoint ClaySurface::at(Spot const& spot) const {
    return laid_point(data_->table.at(spot.azimuth_rad, spot.from_crown_mm), along(spot.azimuth_rad));
}

LaidPoint ClaySurface::at_chart(Vec2 const& chart) const { return at(from_chart(chart)); }

std::optional<Spot> ClaySurface::hit(Vec3 const& from, Vec3 const& direction) const {
    std::optional<RayHit> const found = data_->mesh.hit(data_->table, from, direction);
    if (!found) return std::nullopt;
    return Spot{found->azimuth_rad, found->length_mm};
}

void ClaySurface::lay(Spot const& middle, double turn_rad, std::span<Vec2 const> local_mm,
                      std::span<LaidPoint> out) const {
    assert(out.size() == local_mm.size());
    MeridianTable const& table = data_->table;
    ConnectionGrid const& grid = data_->grid;
    Vec2 const start = std::max(0.0, middle.from_crown_mm) * along(middle.azimuth_rad);
    LocalAxes const axes = local_axes(table, start, middle.azimuth_rad, grid.mesh_mm());
    Vec2 const up = std::cos(turn_rad) * axes.outward + std::sin(turn_rad) * axes.round;
    Vec2 const right = std::sin(turn_rad) * axes.outward - std::cos(turn_rad) * axes.round;
    ConnectionGrid::Symbols const symbols = grid.read(start);
    for (std::size_t i = 0; i < local_mm.size(); ++i) {
        double const length = glm::length(local_mm[i]);
        if (length == 0) {
            out[i] = laid_point(table.at(middle.azimuth_rad, middle.from_crown_mm), along(middle.azimuth_rad));
            continue;
        }
        GeodesicState const state{start, (local_mm[i].x * right + local_mm[i].y * up) / length};
        out[i] = laid_point(table, shoot(table, grid, state, symbols, length));
    }
}

} // namespace leafwright
