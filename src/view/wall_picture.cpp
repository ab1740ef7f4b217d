// Each piece is drawn in a picture of its own, all from the same distance; the pictures overlap on bare wall and are
// faded into each other there, so that no seam is seen.
#include "view/wall_picture.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

struct Tile {
    std::size_t plan = 0;
    double left_mm = 0; // of what belongs to it alone, on the whole wall
    double top_mm = 0;
    double width_mm = 0;
    double height_mm = 0;
};

struct Wall {
    std::vector<Tile> tiles;
    double width_mm = 0;
    double height_mm = 0;
};

// Rows of pieces, middles level; what is left of a shorter row is shared among its pieces.
Wall laid_out(std::vector<Vec3> const& sizes, WallRequest const& request) {
    std::size_t const most = static_cast<std::size_t>(std::max(1, request.most_in_a_row));
    std::size_t const rows = (sizes.size() + most - 1) / most;
    std::size_t const in_row = (sizes.size() + rows - 1) / rows;
    Wall wall;
    std::vector<double> free;
    for (std::size_t from = 0; from < sizes.size(); from += in_row) {
        double high = 0, wide = 0;
        std::size_t const to = std::min(from + in_row, sizes.size());
        for (std::size_t i = from; i < to; ++i) high = std::max(high, sizes[i].y + request.gap_mm);
        for (std::size_t i = from; i < to; ++i) {
            wall.tiles.push_back({i, wide, wall.height_mm, sizes[i].x + request.gap_mm, high});
            wide += wall.tiles.back().width_mm;
        }
        free.push_back(wide);
        wall.height_mm += high;
        wall.width_mm = std::max(wall.width_mm, wide);
    }
    for (std::size_t i = 0; i < wall.tiles.size(); ++i) {
        std::size_t const row = i / in_row;
        std::size_t const count = std::min(in_row, wall.tiles.size() - row * in_row);
        double const more = (wall.width_mm - free[row]) / static_cast<double>(count);
        wall.tiles[i].left_mm += more * static_cast<double>(i % in_row);
        wall.tiles[i].width_mm += more;
    }
    return wall;
}

// Weighted sum of pictures.
class Blend {
public:
    Blend(int width, int height)
        : width_(width),
          height_(height),
          sum_(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 4) {}

    // Full weight but near the edges, where it falls to nothing over `fade` pixels.
    void add(Picture const& tile, int left, int top, int fade) {
        auto const weight = [&](int at, int size) {
            return std::clamp((std::min(at, size - 1 - at) + 0.5F) / static_cast<float>(std::max(1, fade)), 0.001F,
                              1.0F);
        };
        for (int y = std::max(0, -top); y < std::min(tile.height_px, height_ - top); ++y)
            for (int x = std::max(0, -left); x < std::min(tile.width_px, width_ - left); ++x) {
                float const w = weight(x, tile.width_px) * weight(y, tile.height_px);
                unsigned char const* const from = &tile.rgb[3 * index(x, y, tile.width_px)];
                float* const to = &sum_[4 * index(x + left, y + top, width_)];
                for (int c = 0; c < 3; ++c) to[c] += w * static_cast<float>(from[c]);
                to[3] += w;
            }
    }
    Picture picture() const {
        Picture made{width_, height_, std::vector<unsigned char>(sum_.size() / 4 * 3)};
        for (std::size_t i = 0; i < sum_.size() / 4; ++i)
            for (std::size_t c = 0; c < 3; ++c)
                made.rgb[3 * i + c] = static_cast<unsigned char>(
                    std::clamp(sum_[4 * i + c] / std::max(sum_[4 * i + 3], 1e-6F) + 0.5F, 0.0F, 255.0F));
        return made;
    }

private:
    static std::size_t index(int x, int y, int width) {
        return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
    }
    int width_;
    int height_;
    std::vector<float> sum_;
};

} // namespace

Outcome<WallPicture> draw_wall(std::vector<std::shared_ptr<Plan const>> const& plans, WallRequest const& request) {
    if (plans.empty() || request.width_px < 200 || request.width_px > 8192)
        return Problem{"picture.size", "width",
                       "is " + std::to_string(request.width_px) + " pixels; the range is 200 to 8192",
                       "ask for a size within it"};
    PictureRequest one;
    one.options.stage = MakingStage::hang;
    one.samples = request.samples;
    std::vector<Vec3> sizes;
    double deepest = 0, farthest = 0;
    for (auto const& plan : plans) {
        sizes.push_back(scene_size(*plan, one.options));
        deepest = std::max(deepest, sizes.back().z);
        farthest = std::max({farthest, sizes.back().x, sizes.back().y});
    }
    Wall const wall = laid_out(sizes, request);
    double const scale = std::min(request.width_px / wall.width_mm, 8000 / wall.height_mm);
    int const fade = static_cast<int>(std::lround(0.25 * request.gap_mm * scale));
    WallPicture made;
    made.px_per_mm = scale;
    made.places.resize(plans.size());
    Blend blend(static_cast<int>(std::lround(wall.width_mm * scale)),
                static_cast<int>(std::lround(wall.height_mm * scale)));
    double const distance = deepest + 3.2 * farthest; // the same for all: one scale, little perspective
    for (Tile const& tile : wall.tiles) {
        one.width_px = static_cast<int>(std::lround(tile.width_mm * scale)) + 2 * fade;
        one.height_px = static_cast<int>(std::lround(tile.height_mm * scale)) + 2 * fade;
        Camera camera;
        camera.target = {0, 0, 0}; // on the wall, where the scale is told
        camera.distance_mm = distance;
        camera.field_deg = 2 * degrees(std::atan(0.5 * one.height_px / scale / distance));
        one.camera = camera;
        Outcome<Picture> const picture = draw_picture(plans[tile.plan], one);
        if (!picture) return picture.problem();
        int const left = static_cast<int>(std::lround(tile.left_mm * scale)) - fade;
        int const top = static_cast<int>(std::lround(tile.top_mm * scale)) - fade;
        blend.add(*picture, left, top, fade);
        Vec2 const middle{left + 0.5 * one.width_px, top + 0.5 * one.height_px};
        made.places[tile.plan] = {middle, middle.y + 0.5 * sizes[tile.plan].y * scale};
    }
    made.picture = blend.picture();
    return made;
}

} // namespace leafwright
