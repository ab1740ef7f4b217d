#include "near.h"
#include "sample_plan.h"
#include "view/picture.h"

#include <png.h>

#include <map>

using namespace leafwright;

namespace {

std::optional<Picture> picture_or_skip(std::shared_ptr<Plan const> const& plan, PictureRequest const& request) {
    auto picture = draw_picture(plan, request);
    if (picture) return std::move(picture).value();
    REQUIRE(picture.problem().code == "picture.no-gl");
    MESSAGE("skipped: " << picture.problem().sentence());
    return std::nullopt;
}

PictureRequest small(MakingStage stage) {
    PictureRequest request;
    request.width_px = 240;
    request.height_px = 200;
    request.from = HomeView::front;
    request.options.stage = stage;
    return request;
}

struct Rgb {
    int r, g, b;
};

Rgb at(Picture const& picture, int x, int y) {
    std::size_t const i = 3 * static_cast<std::size_t>(y * picture.width_px + x);
    return {picture.rgb[i], picture.rgb[i + 1], picture.rgb[i + 2]};
}

int colours(Picture const& picture) {
    std::map<int, int> seen;
    for (std::size_t i = 0; i + 2 < picture.rgb.size(); i += 3)
        ++seen[picture.rgb[i] << 16 | picture.rgb[i + 1] << 8 | picture.rgb[i + 2]];
    return static_cast<int>(seen.size());
}

} // namespace

TEST_CASE("a picture is full of tones, the same at every call, and another at every stage") {
    auto const plan = sample::plan_of(sample::piece());
    REQUIRE(plan);
    std::vector<std::vector<unsigned char>> seen;
    for (MakingStage const stage : {MakingStage::knead, MakingStage::roll, MakingStage::drape, MakingStage::leaves,
                                    MakingStage::features, MakingStage::dry, MakingStage::first_firing,
                                    MakingStage::finish, MakingStage::last_firing, MakingStage::hang}) {
        auto const picture = picture_or_skip(plan, small(stage));
        if (!picture) return;
        CHECK(picture->rgb.size() == 240u * 200u * 3u);
        CHECK(colours(*picture) > 500);
        for (auto const& other : seen) CHECK(picture->rgb != other);
        seen.push_back(picture->rgb);
    }
    CHECK(picture_or_skip(plan, small(MakingStage::hang))->rgb == seen.back());
}

TEST_CASE("clay is brown and darker than the bench round it") {
    auto const plan = sample::plan_of(sample::piece(false));
    REQUIRE(plan);
    PictureRequest request = small(MakingStage::drape);
    auto const picture = picture_or_skip(plan, request);
    if (!picture) return;
    Rgb const clay = at(*picture, 110, 90), bench = at(*picture, 3, 3);
    CHECK(clay.r > clay.g);
    CHECK(clay.g > clay.b);
    CHECK(bench.r + bench.g + bench.b > clay.r + clay.g + clay.b + 120);
}

TEST_CASE("through an opening the wall is seen, and the former while it is inside") {
    auto const open = sample::plan_of(sample::piece(true));
    auto const shut = sample::plan_of(sample::piece(false));
    REQUIRE(open);
    REQUIRE(shut);
    auto const hung = picture_or_skip(open, small(MakingStage::hang));
    if (!hung) return;
    auto const whole = picture_or_skip(shut, small(MakingStage::hang));
    auto const wet = picture_or_skip(open, small(MakingStage::features));
    Rgb const wall = at(*hung, 122, 104), clay = at(*whole, 122, 104), former = at(*wet, 122, 104);
    // The wall is grey, clay is brown: red stands far above blue in clay only.
    CHECK(wall.r - wall.b < 30);
    CHECK(clay.r - clay.b > 35);
    CHECK(former.r - former.b < 30);
    CHECK(std::abs(former.r - wall.r) + std::abs(former.g - wall.g) + std::abs(former.b - wall.b) > 6);
}

TEST_CASE("bare clay is hatched when asked") {
    auto const plan = sample::plan_of(sample::piece());
    REQUIRE(plan);
    PictureRequest request = small(MakingStage::leaves);
    auto const hatched = picture_or_skip(plan, request);
    if (!hatched) return;
    request.options.show_bare = false;
    CHECK(picture_or_skip(plan, request)->rgb != hatched->rgb);
}

TEST_CASE("the sheet laid flat is another picture than the piece, with rows or without") {
    auto const plan = sample::plan_of(sample::piece());
    REQUIRE(plan);
    PictureRequest request = small(MakingStage::features);
    auto const piece = picture_or_skip(plan, request);
    if (!piece) return;
    request.options.show_rows = true;
    CHECK(picture_or_skip(plan, request)->rgb != piece->rgb);
    request.options.look = Look::flat;
    CHECK(picture_or_skip(plan, request)->rgb != piece->rgb);
}

TEST_CASE("a size beyond the range is refused") {
    auto const plan = sample::plan_of(sample::piece());
    REQUIRE(plan);
    PictureRequest request;
    request.width_px = 15;
    auto const narrow = draw_picture(plan, request);
    REQUIRE_FALSE(narrow.ok());
    CHECK(narrow.problem().code == "picture.size");
    request.width_px = 100;
    request.height_px = 8193;
    CHECK(draw_picture(plan, request).problem().code == "picture.size");
}

TEST_CASE("a PNG read back by libpng holds the same pixels") {
    Picture picture{3, 2, {}};
    for (int i = 0; i < 18; ++i) picture.rgb.push_back(static_cast<unsigned char>(i * 13));
    std::string const bytes = png_of(picture);
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    REQUIRE(png_image_begin_read_from_memory(&image, bytes.data(), bytes.size()));
    CHECK(image.width == 3);
    CHECK(image.height == 2);
    image.format = PNG_FORMAT_RGB;
    std::vector<unsigned char> read(PNG_IMAGE_SIZE(image));
    REQUIRE(png_image_finish_read(&image, nullptr, read.data(), 0, nullptr));
    CHECK(read == picture.rgb);
}
