// The front end for photographs: kinds, sizes, tags, turning, and refusal of anything damaged.
#include "leaf/photo.h"
#include "leaf/photo_scene.h"

#include "near.h"

#include <doctest/doctest.h>

#include <sys/resource.h>

#include <cmath>
#include <string>

using namespace leafwright;

namespace {

// A picture whose every pixel tells where it is.
Photo chart(int width, int height) {
    Photo photo;
    photo.width_px = width;
    photo.height_px = height;
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) {
            photo.rgb.push_back(static_cast<std::uint8_t>(40 + x * 160 / width));
            photo.rgb.push_back(static_cast<std::uint8_t>(40 + y * 160 / height));
            photo.rgb.push_back(90);
        }
    return photo;
}

// EXIF 2.3 with an orientation (tag 0112) and 300 dots an inch (011A, 011B, 0128), put behind a JPEG's start marker.
std::string with_exif(std::string const& jpeg, int turned) {
    auto const two = [](int v) { return std::string{static_cast<char>(v & 255), static_cast<char>(v >> 8)}; };
    auto const four = [&](int v) { return two(v & 0xFFFF) + two(v >> 16); };
    auto const entry = [&](int tag, int type, int value) { return two(tag) + two(type) + four(1) + four(value); };
    std::string const tiff = "II" + two(42) + four(8) + two(4) + entry(0x112, 3, turned) + entry(0x11A, 5, 62) +
                             entry(0x11B, 5, 62) + entry(0x128, 3, 2) + four(0) + four(300) + four(1);
    std::string const block = std::string("Exif\0\0", 6) + tiff;
    auto const size = static_cast<int>(block.size()) + 2;
    return jpeg.substr(0, 2) + "\xFF\xE1" + static_cast<char>(size >> 8) + static_cast<char>(size & 255) + block +
           jpeg.substr(2);
}

} // namespace

TEST_CASE("a JPEG and a PNG are read as they were written") {
    Photo const made = chart(96, 80);
    auto const png = read_photo(png_of(made));
    REQUIRE(png.ok());
    CHECK(png->rgb == made.rgb);
    auto const jpeg = read_photo(jpeg_of(made, 95));
    REQUIRE(jpeg.ok());
    CHECK(jpeg->width_px == 96);
    CHECK(jpeg->height_px == 80);
    double worst = 0;
    for (std::size_t i = 0; i < made.rgb.size(); ++i)
        worst = std::max(worst, std::abs(made.rgb[i] - 1.0 * jpeg->rgb[i]));
    CHECK(worst < 8);
}

TEST_CASE("EXIF orientation is undone, and its resolution is told") {
    // EXIF 2.3, 4.6.4: which corner the file's first row and first column are. Where the chart's red and green rise
    // afterwards, by orientation: (x to the right, y downward) of the upright picture.
    Photo const made = chart(96, 64);
    struct Expected {
        int turned;
        bool swapped;
        int red_x, red_y; // the way in which red rises
    };
    for (Expected const e :
         {Expected{1, false, 1, 0}, Expected{2, false, -1, 0}, Expected{3, false, -1, 0}, Expected{4, false, 1, 0},
          Expected{5, true, 0, 1}, Expected{6, true, 0, 1}, Expected{7, true, 0, -1}, Expected{8, true, 0, -1}}) {
        CAPTURE(e.turned);
        auto const photo = read_photo(with_exif(jpeg_of(made, 95), e.turned));
        REQUIRE(photo.ok());
        CHECK(photo->width_px == (e.swapped ? 64 : 96));
        CHECK(photo->height_px == (e.swapped ? 96 : 64));
        int const cx = photo->width_px / 2;
        int const cy = photo->height_px / 2;
        int const rise_x = photo->at(cx + 20, cy)[0] - photo->at(cx - 20, cy)[0];
        int const rise_y = photo->at(cx, cy + 20)[0] - photo->at(cx, cy - 20)[0];
        CHECK(rise_x * e.red_x >= (e.red_x != 0 ? 20 : 0));
        CHECK(rise_y * e.red_y >= (e.red_y != 0 ? 20 : 0));
        CHECK_NEAR(photo->tags.dpi, 300, 1e-9);
        CHECK(photo->tags.from == "EXIF");
    }
}

TEST_CASE("a picture that ends too early or has a fault in its data is refused") {
    for (std::string const& whole : {jpeg_of(chart(96, 80), 80), png_of(chart(96, 80))}) {
        for (std::size_t cut = 1; cut < 12; ++cut) {
            auto const photo = read_photo(whole.substr(0, whole.size() * cut / 12));
            REQUIRE(!photo.ok());
            CHECK((photo.problem().code == "photo.damaged" || photo.problem().code == "photo.kind"));
        }
    }
    std::string broken = png_of(chart(96, 80));
    broken[broken.size() / 2] = static_cast<char>(broken[broken.size() / 2] ^ 0x55);
    CHECK(!read_photo(broken).ok());
}

TEST_CASE("other kinds are answered with what to do, and sizes are checked before anything is decoded") {
    struct Kind {
        std::string bytes;
        PhotoKind kind;
    };
    using namespace std::string_literals;
    for (Kind const& k : {Kind{"\0\0\0\x18"
                               "ftypheic\0\0\0\0"s,
                               PhotoKind::heic},
                          Kind{"RIFF\1\2\3\4WEBPVP8 "s, PhotoKind::webp}, Kind{"II*\0\x08\0\0\0"s, PhotoKind::tiff},
                          Kind{"GIF89a"s, PhotoKind::gif}, Kind{"%PDF-1.7"s, PhotoKind::pdf},
                          Kind{"hello"s, PhotoKind::unknown}, Kind{""s, PhotoKind::unknown}}) {
        CHECK(photo_kind(k.bytes) == k.kind);
        auto const photo = read_photo(k.bytes);
        REQUIRE(!photo.ok());
        CHECK(photo.problem().code == "photo.kind");
        CHECK(!photo.problem().hint.empty());
    }
    PhotoLimits limits;
    limits.most_px = 5000;
    CHECK(read_photo(jpeg_of(chart(96, 80), 80), limits).problem().code == "photo.size");
    CHECK(read_photo(png_of(chart(96, 80)), limits).problem().code == "photo.size");
    CHECK(read_photo(png_of(chart(40, 40))).problem().code == "photo.size");
    limits.most_px = 1e6;
    limits.comfort_px = 2000;
    auto const shrunk = read_photo(png_of(chart(96, 80)), limits);
    REQUIRE(shrunk.ok());
    CHECK(shrunk->shrunk == 2);
    CHECK(shrunk->width_px == 48);
    CHECK_NEAR(shrunk->at(24, 20)[0], chart(96, 80).at(48, 40)[0], 3);
}

TEST_CASE("a PNG that tells of a chunk larger than itself is refused before room is made for it") {
    // Found by fuzzing: a text chunk of 1.7 GB in a file of 94 bytes.
    PhotoScene scene;
    scene.width_px = 40;
    scene.height_px = 30;
    std::string png = png_of(made_photo(scene).photo);
    std::string const text{'\x65', '\x61', '\x01', '\x00', 't', 'E', 'X', 't', 'd', 'a', 't', 'e', 0, 'x'};
    png.insert(33, text); // behind the header
    rusage before{};
    getrusage(RUSAGE_SELF, &before);
    auto const read = read_photo(png);
    rusage after{};
    getrusage(RUSAGE_SELF, &after);
    REQUIRE_FALSE(read.ok());
    CHECK(read.problem().what.find("damaged") != std::string::npos);
    CHECK(after.ru_maxrss - before.ru_maxrss < 100000); // kB
}
