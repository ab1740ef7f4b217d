#include "leaf/photo_scene.h"

#include "base/random.h"
#include "base/units.h"

#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>

#include <jpeglib.h>
#include <png.h>

namespace leafwright {

namespace {

constexpr double kMargin_mm = 40; // of the table, around the sheet, in the plan of things
constexpr double kPlan_mm = 0.06;
constexpr double kShade_mm = 0.5;

double hash_unit(int x, int y, std::uint64_t seed) {
    return Random(seed ^
                  (static_cast<std::uint64_t>(static_cast<std::uint32_t>(x)) << 32 | static_cast<std::uint32_t>(y)))
        .unit();
}

// Smooth noise, 0 to 1.
double wave_noise(double x, double y, std::uint64_t seed) {
    int const i = static_cast<int>(std::floor(x));
    int const j = static_cast<int>(std::floor(y));
    double const u = x - i;
    double const v = y - j;
    auto const at = [&](int a, int b) { return hash_unit(i + a, j + b, seed); };
    return (at(0, 0) * (1 - u) + at(1, 0) * u) * (1 - v) + (at(0, 1) * (1 - u) + at(1, 1) * u) * v;
}

Light table_light(Table table, Vec2 const& p) {
    switch (table) {
    case Table::light: {
        double const k = 0.9 + 0.2 * wave_noise(p.x * 0.8, p.y * 0.15, 7);
        return {0.52 * k, 0.44 * k, 0.33 * k};
    }
    case Table::white: {
        double const k = 0.97 + 0.05 * wave_noise(p.x * 0.3, p.y * 0.3, 8);
        return {0.70 * k, 0.70 * k, 0.70 * k};
    }
    case Table::tiles: {
        bool const joint = std::fmod(std::abs(p.x + 500), 60.0) < 2 || std::fmod(std::abs(p.y + 500), 60.0) < 2;
        double const k = joint ? 0.4 : 0.9 + 0.2 * wave_noise(p.x, p.y, 9);
        return {0.30 * k, 0.26 * k, 0.24 * k};
    }
    case Table::grained: { // boards with dark pores and joints
        double const bent = p.x + 6 * wave_noise(p.x * 0.03, p.y * 0.012, 21);
        double const ring = 0.5 + 0.5 * std::sin(bent * 0.9 + 4 * wave_noise(p.x * 0.05, p.y * 0.01, 22));
        bool const joint = std::fmod(std::abs(p.x + 1000), 92.0) < 0.8;
        double const pore = wave_noise(p.x * 3.1, p.y * 0.12, 23) > 0.83 ? 0.55 : 1;
        double const k = joint ? 0.25 : (0.55 + 0.75 * ring) * pore;
        return {0.34 * k, 0.20 * k, 0.10 * k};
    }
    default: {
        double const k =
            0.6 + 0.5 * wave_noise(p.x * 0.9, p.y * 0.05, 3) +
            (wave_noise(p.x * 0.25 + 3 * wave_noise(p.x * 0.02, p.y * 0.01, 5), p.y * 0.01, 4) > 0.8 ? -0.3 : 0);
        return {0.16 * k, 0.085 * k, 0.04 * k};
    }
    }
}

struct Plan {
    cv::Mat1b kind; // 0 table, 1 paper, 2 dust, then one for each thing, then two for each leaf: blade, vein
    cv::Mat1f shade;
};

// Every point of the plan whose middle lies inside, by crossings of its row.
void fill(cv::Mat1b& kind, Ring const& ring, int value) {
    std::vector<std::vector<double>> crossings(static_cast<std::size_t>(kind.rows));
    for (std::size_t i = 0; i < ring.size(); ++i) {
        Vec2 a = (ring[i] + kMargin_mm) / kPlan_mm - 0.5;
        Vec2 b = (ring[(i + 1) % ring.size()] + kMargin_mm) / kPlan_mm - 0.5;
        if (a.y > b.y) std::swap(a, b);
        for (int y = std::max(0, static_cast<int>(std::ceil(a.y))); y < std::min<double>(b.y, kind.rows); ++y)
            crossings[static_cast<std::size_t>(y)].push_back(a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y));
    }
    for (int y = 0; y < kind.rows; ++y) {
        auto& row = crossings[static_cast<std::size_t>(y)];
        std::sort(row.begin(), row.end());
        for (std::size_t k = 0; k + 1 < row.size(); k += 2)
            for (int x = std::max(0, static_cast<int>(std::ceil(row[k])));
                 x <= std::min(kind.cols - 1.0, std::floor(row[k + 1])); ++x)
                kind(y, x) = static_cast<unsigned char>(value);
    }
}

Vec2 on_sheet(SceneLeaf const& leaf, Vec2 const& p) {
    Vec2 const centre = bounds(leaf.shape.outline_mm.outer).centre();
    double const a = radians(leaf.turn_deg);
    Vec2 const d{p.x - centre.x, -(p.y - centre.y)};
    return leaf.middle_mm + Vec2{std::cos(a) * d.x - std::sin(a) * d.y, std::sin(a) * d.x + std::cos(a) * d.y};
}

constexpr int kFirstThing = 3;
int first_leaf(PhotoScene const& scene) { return kFirstThing + static_cast<int>(scene.things.size()); }

Ring disc(Vec2 const& centre, double radius) {
    Ring ring;
    for (int k = 0; k < 90; ++k)
        ring.push_back(centre + radius * Vec2{std::cos(kTwoPi * k / 90), std::sin(kTwoPi * k / 90)});
    return ring;
}

// A round bite about a point of the ring: the run of points in it gives way to the arc inside.
Ring bitten(Ring const& ring, std::size_t at, double radius) {
    std::size_t const n = ring.size();
    Vec2 const centre = ring[at];
    auto const in = [&](std::size_t k) { return glm::length(ring[k % n] - centre) < radius; };
    std::size_t first = at;
    std::size_t last = at;
    for (std::size_t k = 0; k < n / 3 && in(first + n - 1); ++k) first = (first + n - 1) % n;
    for (std::size_t k = 0; k < n / 3 && in(last + 1); ++k) last = (last + 1) % n;
    auto const crossing = [&](Vec2 inside, Vec2 outside) {
        for (int k = 0; k < 50; ++k) {
            Vec2 const middle = 0.5 * (inside + outside);
            (glm::length(middle - centre) < radius ? inside : outside) = middle;
        }
        return outside;
    };
    Vec2 const from = crossing(ring[first], ring[(first + n - 1) % n]);
    Vec2 const to = crossing(ring[last], ring[(last + 1) % n]);
    double const a = std::atan2(from.y - centre.y, from.x - centre.x);
    double const b = std::atan2(to.y - centre.y, to.x - centre.x);
    double turn = std::fmod(b - a + 2 * kTwoPi, kTwoPi);
    auto const place = [&](double angle) { return centre + radius * Vec2{std::cos(angle), std::sin(angle)}; };
    if (!contains(ring, place(a + 0.5 * turn))) turn -= kTwoPi;
    Ring out;
    for (std::size_t k = (last + 1) % n; k != first; k = (k + 1) % n) out.push_back(ring[k]);
    for (int k = 0; k <= 24; ++k) out.push_back(place(a + turn * k / 24));
    return is_simple(out) ? out : ring;
}

Plan plan_of(PhotoScene const& scene) {
    Plan plan;
    cv::Size const size(static_cast<int>((scene.sheet_width_mm + 2 * kMargin_mm) / kPlan_mm),
                        static_cast<int>((scene.sheet_height_mm + 2 * kMargin_mm) / kPlan_mm));
    plan.kind = cv::Mat1b(size, static_cast<unsigned char>(scene.sheet ? 0 : 1));
    fill(plan.kind,
         {{0, 0}, {scene.sheet_width_mm, 0}, {scene.sheet_width_mm, scene.sheet_height_mm}, {0, scene.sheet_height_mm}},
         1);
    Random specks(scene.seed + 77);
    for (int k = 0; k < scene.dust; ++k) {
        Vec2 const at{specks.between(0, scene.sheet_width_mm), specks.between(0, scene.sheet_height_mm)};
        fill(plan.kind, disc(at, specks.between(0.1, 0.4)), 2);
    }
    for (std::size_t i = 0; i < scene.things.size(); ++i) {
        Vec2 const a = scene.things[i].low_mm;
        Vec2 const b = scene.things[i].high_mm;
        fill(plan.kind, {a, {b.x, a.y}, b, {a.x, b.y}}, kFirstThing + static_cast<int>(i));
    }
    for (std::size_t i = 0; i < scene.leaves.size(); ++i) {
        SceneLeaf const& leaf = scene.leaves[i];
        int const blade = first_leaf(scene) + static_cast<int>(2 * i);
        if (leaf.stalk_mm > 0) {
            Ring stalk;
            for (Vec2 const& p : {Vec2{-0.8, 2}, Vec2{0.8, 2}, Vec2{1.0, -leaf.stalk_mm}, Vec2{-0.6, -leaf.stalk_mm}})
                stalk.push_back(on_sheet(leaf, p));
            fill(plan.kind, stalk, blade);
        }
        Polygon const outline = placed(leaf);
        fill(plan.kind, outline.outer, blade);
        for (Vein const& vein : leaf.shape.veins) {
            if (vein.order > 2) continue;
            for (std::size_t k = 0; k + 1 < vein.line_mm.size(); ++k) {
                Vec2 const a = on_sheet(leaf, vein.line_mm[k]);
                Vec2 const b = on_sheet(leaf, vein.line_mm[k + 1]);
                auto const at = [](Vec2 const& p) {
                    return cv::Point(cvRound((p.x + kMargin_mm) / kPlan_mm), cvRound((p.y + kMargin_mm) / kPlan_mm));
                };
                double const width = vein.order == 1 ? 0.9 : 0.4;
                if (!contains(outline.outer, a) || !contains(outline.outer, b)) continue;
                cv::line(plan.kind, at(a), at(b), cv::Scalar(blade + 1),
                         std::max(1, static_cast<int>(width / kPlan_mm)));
            }
        }
        for (Ring const& hole : outline.holes) fill(plan.kind, hole, 1);
    }
    cv::Mat1f leafy;
    cv::Mat1b const any = plan.kind >= first_leaf(scene);
    any.convertTo(leafy, CV_32F, 1.0 / 255);
    cv::resize(leafy, leafy, {}, kPlan_mm / kShade_mm, kPlan_mm / kShade_mm, cv::INTER_AREA);
    double const moved = scene.shadow_mm / kShade_mm;
    cv::Mat const shift = (cv::Mat_<double>(2, 3) << 1, 0, moved, 0, 1, 0.7 * moved);
    cv::warpAffine(leafy, plan.shade, shift, leafy.size());
    cv::GaussianBlur(plan.shade, plan.shade, {}, std::max(0.3, scene.shadow_soft_mm / kShade_mm));
    return plan;
}

// The camera: pixels to the sheet's plane.
struct Camera {
    Vec3 eye{0, 0, 0};
    Vec3 right{1, 0, 0};
    Vec3 down{0, 1, 0};
    Vec3 forward{0, 0, 1};
    double focal_px = 2600;
    Vec2 middle_px{0, 0};
    Vec2 at(Vec2 const& px) const {
        Vec3 const way = forward * focal_px + right * (px.x - middle_px.x) + down * (px.y - middle_px.y);
        double const t = -eye.z / way.z;
        return {eye.x + t * way.x, eye.y + t * way.y};
    }
};

Camera camera_of(PhotoScene const& scene) {
    Camera camera;
    camera.middle_px = {0.5 * (scene.width_px - 1), 0.5 * (scene.height_px - 1)};
    double const longest = std::max(scene.width_px, scene.height_px);
    camera.focal_px = 0.8 * longest;
    double const distance = std::max(scene.sheet_width_mm / scene.width_px, scene.sheet_height_mm / scene.height_px) *
                            camera.focal_px / scene.fill;
    double const tilt = radians(scene.tilt_deg);
    double const way = radians(scene.tilt_way_deg);
    Vec3 const middle{0.5 * scene.sheet_width_mm + scene.aim_mm.x, 0.5 * scene.sheet_height_mm + scene.aim_mm.y, 0};
    // The camera sits at z < 0 and looks along +z, tilted about the axis square to `way`.
    Vec3 const side{std::cos(way), std::sin(way), 0};
    camera.forward = Vec3{0, 0, 1} * std::cos(tilt) - side * std::sin(tilt);
    camera.eye = middle - camera.forward * distance;
    double const roll = radians(scene.roll_deg);
    Vec3 right = glm::normalize(glm::cross(Vec3{0, 1, 0}, camera.forward));
    Vec3 down = glm::cross(camera.forward, right);
    camera.right = right * std::cos(roll) + down * std::sin(roll);
    camera.down = down * std::cos(roll) - right * std::sin(roll);
    return camera;
}

double encoded(double light) {
    double const v = std::clamp(light, 0.0, 1.0);
    return 255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055);
}

Light leaf_light(PhotoScene const& scene, SceneLeaf const& leaf, bool vein, Vec2 const& p) {
    double k = 1 - leaf.uneven + 2 * leaf.uneven * wave_noise(p.x * 0.35, p.y * 0.35, 11);
    if (vein) k *= leaf.vein_light ? 1.7 : 0.6;
    double const wave = wave_noise(p.x * 0.12, p.y * 0.12, 13);
    double const glint = scene.gloss * std::pow(std::max(0.0, wave - 0.55) / 0.45, 2.0);
    double mix = 0;
    if (leaf.patches > 0) {
        double const patch = 0.7 * wave_noise(p.x * 0.13, p.y * 0.13, 31) + 0.3 * wave_noise(p.x * 0.5, p.y * 0.5, 32);
        mix = std::clamp((patch - (1 - leaf.patches)) * 6 + 0.5, 0.0, 1.0);
    }
    for (Vec2 const& drop : {leaf.middle_mm + Vec2{3, 15}, leaf.middle_mm - Vec2{3, 15}})
        if (glm::length(p - drop) < leaf.drop_mm) return {1.3, 1.3, 1.3};
    Light light{};
    for (std::size_t c = 0; c < 3; ++c) light[c] = (leaf.light[c] * (1 - mix) + leaf.second[c] * mix) * k + glint;
    return light;
}

Light thing_light(SceneThing const& thing, Vec2 const& p) {
    Vec2 const size = thing.high_mm - thing.low_mm;
    double const along = size.x > size.y ? p.x - thing.low_mm.x : p.y - thing.low_mm.y;
    double const aside = size.x > size.y ? p.y - thing.low_mm.y : p.x - thing.low_mm.x;
    double const reach = std::fmod(along + 0.1, 10.0) < 0.25 ? 8 : 4;
    if (thing.ticks && std::fmod(along + 0.1, 1.0) < 0.25 && aside < reach) return {0.02, 0.02, 0.02};
    return thing.light;
}

// The hand that holds the camera, between the lamp and the sheet: its palm and four fingers.
double hand_shadow(PhotoScene const& scene, Vec2 const& p) {
    Vec2 const d = p - scene.hand_mm;
    double least = glm::length(d - Vec2{-55, 40}) - 45;
    for (int k = 0; k < 4; ++k) {
        Vec2 const root{-40.0 + 14 * k, 8.0};
        Vec2 const end{-28.0 + 20 * k, -62.0 + 12 * std::abs(k - 1)};
        double const t = std::clamp(glm::dot(d - root, end - root) / glm::dot(end - root, end - root), 0.0, 1.0);
        least = std::min(least, glm::length(d - root - (end - root) * t) - 9);
    }
    return scene.hand * std::clamp(0.5 - least / scene.hand_soft_mm, 0.0, 1.0);
}

double leaf_shadow(Plan const& plan, Vec2 const& p) {
    double const sx = (p.x + kMargin_mm) / kShade_mm - 0.5;
    double const sy = (p.y + kMargin_mm) / kShade_mm - 0.5;
    int const i = std::clamp(static_cast<int>(sx), 0, plan.shade.cols - 2);
    int const j = std::clamp(static_cast<int>(sy), 0, plan.shade.rows - 2);
    double const u = std::clamp(sx - i, 0.0, 1.0);
    double const v = std::clamp(sy - j, 0.0, 1.0);
    auto const at = [&](int a, int b) { return static_cast<double>(plan.shade(j + b, i + a)); };
    return (at(0, 0) * (1 - u) + at(1, 0) * u) * (1 - v) + (at(0, 1) * (1 - u) + at(1, 1) * u) * v;
}

Light surface_light(PhotoScene const& scene, Plan const& plan, Vec2 const& p) {
    auto const x = static_cast<int>(std::floor((p.x + kMargin_mm) / kPlan_mm));
    auto const y = static_cast<int>(std::floor((p.y + kMargin_mm) / kPlan_mm));
    bool const in = x >= 0 && y >= 0 && x < plan.kind.cols && y < plan.kind.rows;
    int const kind = in ? plan.kind(y, x) : (scene.sheet ? 0 : 1);
    int const leaves = first_leaf(scene);
    if (kind >= leaves)
        return leaf_light(scene, scene.leaves[static_cast<std::size_t>(kind - leaves) / 2], (kind - leaves) % 2 == 1,
                          p);
    if (kind >= kFirstThing) return thing_light(scene.things[static_cast<std::size_t>(kind - kFirstThing)], p);
    Light light = kind == 0 ? table_light(scene.table, p) : scene.paper;
    if (scene.weave > 0 && kind == 1) {
        double const threads = 0.5 * (std::sin(p.x * 9) + std::sin(p.y * 9)) + 0.6 * wave_noise(p.x * 2, p.y * 2, 41);
        for (double& c : light) c *= std::max(0.1, 1 + scene.weave * threads);
    }
    if (kind == 2) light = {0.12, 0.11, 0.10};
    if (scene.shadow > 0 && in)
        for (double& c : light) c *= 1 - scene.shadow * leaf_shadow(plan, p);
    return light;
}

Light light_at(PhotoScene const& scene, Plan const& plan, Vec2 const& p) {
    Light light = surface_light(scene, plan, p);
    if (scene.hand > 0)
        for (double& c : light) c *= 1 - hand_shadow(scene, p);
    return light;
}

void expose(PhotoScene const& scene, cv::Mat3f const& image, Photo& photo) {
    photo.width_px = image.cols;
    photo.height_px = image.rows;
    photo.rgb.resize(3 * image.total());
    cv::parallel_for_(cv::Range(0, image.rows), [&](cv::Range const& rows) {
        for (int y = rows.start; y < rows.end; ++y) {
            Random random = Random(scene.seed).split(static_cast<std::uint64_t>(y));
            for (int x = 0; x < image.cols; ++x)
                for (int c = 0; c < 3; ++c) {
                    double light = static_cast<double>(image(y, x)[c]);
                    if (scene.colour_noise > 0)
                        light += scene.colour_noise *
                                 (wave_noise(x * 0.3, y * 0.3, 50 + static_cast<std::uint64_t>(c)) - 0.5) *
                                 (0.3 + std::sqrt(std::max(0.0, light)));
                    // Four even numbers make a fair bell; noise grows with the root of light.
                    double bell = -2;
                    for (int k = 0; k < 4; ++k) bell += random.unit();
                    double const noisy = light + 1.73 * bell * scene.noise * (0.3 + std::sqrt(std::max(0.0, light)));
                    photo.rgb[3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.cols) +
                                   static_cast<std::size_t>(x)) +
                              static_cast<std::size_t>(c)] = static_cast<std::uint8_t>(std::lround(encoded(noisy)));
                }
        }
    });
}

} // namespace

Polygon placed(SceneLeaf const& leaf) {
    Polygon out;
    for (Vec2 const& p : leaf.shape.outline_mm.outer) out.outer.push_back(on_sheet(leaf, p));
    for (int k = 0; k < leaf.bites; ++k)
        out.outer = bitten(
            out.outer, static_cast<std::size_t>((0.31 + 0.47 * k / leaf.bites) * static_cast<double>(out.outer.size())),
            leaf.bite_mm);
    if (leaf.hole_mm > 0)
        out.holes.push_back(
            disc(on_sheet(leaf, {0.2 * leaf.shape.width_mm, 0.45 * leaf.shape.length_mm}), leaf.hole_mm));
    return out;
}

MadePhoto made_photo(PhotoScene const& scene) {
    Plan const plan = plan_of(scene);
    Camera const camera = camera_of(scene);
    cv::Mat3f image(static_cast<int>(scene.height_px), static_cast<int>(scene.width_px));
    constexpr int kSamples = 2;
    cv::parallel_for_(cv::Range(0, image.rows), [&](cv::Range const& rows) {
        for (int y = rows.start; y < rows.end; ++y)
            for (int x = 0; x < image.cols; ++x) {
                Light sum{0, 0, 0};
                for (int k = 0; k < kSamples * kSamples; ++k) {
                    Vec2 const px{x + (k % kSamples + 0.5) / kSamples - 0.5, y + (k / kSamples + 0.5) / kSamples - 0.5};
                    Light const light = light_at(scene, plan, camera.at(px));
                    for (std::size_t c = 0; c < 3; ++c) sum[c] += light[c] / (kSamples * kSamples);
                }
                double const a = radians(scene.ramp_way_deg);
                double const across =
                    (std::cos(a) * (x / scene.width_px - 0.5) + std::sin(a) * (y / scene.height_px - 0.5));
                double const lamp = 1 - scene.ramp * std::clamp(0.5 + across, 0.0, 1.0);
                Vec2 const g{(x / scene.width_px - scene.glare_at.x) / scene.glare_wide,
                             (y / scene.height_px - scene.glare_at.y) / (0.7 * scene.glare_wide)};
                double const glare = scene.glare * std::exp(-0.5 * glm::dot(g, g));
                Vec2 const out{2 * x / scene.width_px - 1, 2 * y / scene.height_px - 1};
                double const lens = 1 - 0.5 * scene.vignette * glm::dot(out, out);
                if (scene.grey) sum.fill(0.2126 * sum[0] + 0.7152 * sum[1] + 0.0722 * sum[2]);
                for (std::size_t c = 0; c < 3; ++c)
                    image(y, x)[static_cast<int>(c)] =
                        static_cast<float>((sum[c] * lamp * lens + glare) * scene.cast[c]);
            }
    });
    if (scene.blur_px > 0) cv::GaussianBlur(image, image, {}, scene.blur_px);
    MadePhoto made;
    expose(scene, image, made.photo);
    for (SceneLeaf const& leaf : scene.leaves) made.truth_mm.push_back(placed(leaf));
    return made;
}

std::string jpeg_of(Photo const& photo, int quality) {
    jpeg_compress_struct jpeg{};
    jpeg_error_mgr faults{};
    jpeg.err = jpeg_std_error(&faults);
    jpeg_create_compress(&jpeg);
    unsigned char* bytes = nullptr;
    unsigned long size = 0;
    jpeg_mem_dest(&jpeg, &bytes, &size);
    jpeg.image_width = static_cast<JDIMENSION>(photo.width_px);
    jpeg.image_height = static_cast<JDIMENSION>(photo.height_px);
    jpeg.input_components = 3;
    jpeg.in_color_space = JCS_RGB;
    jpeg_set_defaults(&jpeg);
    jpeg_set_quality(&jpeg, quality, TRUE);
    jpeg_start_compress(&jpeg, TRUE);
    while (jpeg.next_scanline < jpeg.image_height) {
        auto* row = const_cast<std::uint8_t*>(photo.at(0, static_cast<int>(jpeg.next_scanline)));
        jpeg_write_scanlines(&jpeg, &row, 1);
    }
    jpeg_finish_compress(&jpeg);
    jpeg_destroy_compress(&jpeg);
    std::string out(reinterpret_cast<char const*>(bytes), size);
    std::free(bytes);
    return out;
}

std::string png_of(Photo const& photo) {
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    image.width = static_cast<png_uint_32>(photo.width_px);
    image.height = static_cast<png_uint_32>(photo.height_px);
    image.format = PNG_FORMAT_RGB;
    png_alloc_size_t size = 0;
    png_image_write_to_memory(&image, nullptr, &size, 0, photo.rgb.data(), 0, nullptr);
    std::string bytes(size, '\0');
    png_image_write_to_memory(&image, bytes.data(), &size, 0, photo.rgb.data(), 0, nullptr);
    bytes.resize(size);
    return bytes;
}

} // namespace leafwright
