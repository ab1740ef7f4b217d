// Any bytes: read without harm; small jobs that are accepted are laid, and the layout is sound.
#include "cutting/nest_file.h"

#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(unsigned char const* data, std::size_t size) {
    using namespace leafwright;
    Outcome<NestFile> const file = nest_file_from_json({reinterpret_cast<char const*>(data), size});
    if (!file) {
        if (file.problem().what.empty() || file.problem().sentence().find('\n') != std::string::npos) std::abort();
        return 0;
    }
    std::size_t pieces = 0, points = 0;
    for (NestShape const& s : file->job.shapes) {
        pieces += static_cast<std::size_t>(s.copies);
        points += s.outline.outer.size();
        for (Ring const& hole : s.outline.holes) points += hole.size();
    }
    if (pieces > 12 || points > 100) return 0;
    Outcome<NestResult> const result = first_nest(file->job);
    if (!result) return result.problem().what.empty() ? (std::abort(), 0) : 0;
    if (!nest_faults(file->job, *result).empty()) std::abort();
    return 0;
}
