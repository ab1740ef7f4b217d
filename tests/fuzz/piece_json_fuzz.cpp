// Any bytes: read without harm; what is accepted is a valid piece, and survives a round trip.
#include "piece/piece_json.h"

#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(unsigned char const* data, std::size_t size) {
    using namespace leafwright;
    Outcome<Piece> const piece = piece_from_json({reinterpret_cast<char const*>(data), size});
    if (!piece) {
        if (piece.problem().what.empty() || piece.problem().sentence().find('\n') != std::string::npos) std::abort();
        return 0;
    }
    if (check_piece(*piece)) std::abort();
    Outcome<Piece> const back = piece_from_json(piece_to_json(*piece));
    if (!back.ok() || !(*back == *piece)) std::abort();
    return 0;
}
