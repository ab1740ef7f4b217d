// The fuzz target's little brother, the same on every machine: pieces with bytes changed, cut and doubled are read
// without harm, and what is accepted is a valid piece.
#include "near.h"
#include "sample_piece.h"

using namespace leafwright;

namespace {

std::string mutated(std::string text, Random& random) {
    static constexpr std::string_view kBytes = "{}[]\",:0123456789-+.eE nulltrfas\\\x00\xff\n";
    for (std::uint32_t i = 1 + random.below(6); i > 0 && !text.empty(); --i) {
        auto const at = random.below(static_cast<std::uint32_t>(text.size()));
        auto const length = random.below(40);
        switch (random.below(5)) {
        case 0:
            text[at] = kBytes[random.below(static_cast<std::uint32_t>(kBytes.size()))];
            break;
        case 1:
            text.erase(at, length);
            break;
        case 2:
            text.insert(at, text.substr(random.below(static_cast<std::uint32_t>(text.size())), length));
            break;
        case 3:
            text.insert(at, 1, kBytes[random.below(static_cast<std::uint32_t>(kBytes.size()))]);
            break;
        default:
            text[at] = static_cast<char>(random.below(256));
            break;
        }
    }
    return text;
}

} // namespace

TEST_CASE("a spoilt file is refused with a sentence, or is a valid piece") {
    Random random(2024);
    int refused = 0;
    int accepted = 0;
    std::string const text = piece_to_json(sample::full_piece(1, 3));
    for (int i = 0; i < 20000; ++i) {
        Outcome<Piece> const piece = piece_from_json(mutated(text, random));
        if (!piece) {
            ++refused;
            CHECK_FALSE(piece.problem().what.empty());
            CHECK(piece.problem().sentence().find('\n') == std::string::npos);
            continue;
        }
        ++accepted;
        CHECK_FALSE(check_piece(*piece).has_value());
        CHECK(*piece_from_json(piece_to_json(*piece)) == *piece);
    }
    CHECK(refused > 10000);
    CHECK(accepted > 100);
}
