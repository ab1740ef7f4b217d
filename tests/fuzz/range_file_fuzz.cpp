// Any bytes: read without harm; what is accepted is written and read as the same range, and a calendar of plain pieces
// can be made for it or is refused in a sentence.
#include "range/range_file.h"
#include "range/schedule.h"

#include <cstdlib>

namespace {

using namespace leafwright;

ScheduleJob job_for(RangeSpec const& spec) {
    ScheduleJob job;
    job.start = spec.start;
    job.work = spec.work;
    job.formers = {spec.formers};
    job.drying_places = spec.drying_places;
    int copies = 0;
    for (RangePieceSpec const& piece : spec.pieces) {
        ScheduleKind kind;
        kind.name = piece.file;
        kind.copies = std::min(piece.copies, 3);
        kind.make_min = 60 + static_cast<int>(piece.label.size());
        kind.former_days = 2;
        kind.drying_days = 5;
        kind.firings = 1;
        copies += kind.copies;
        job.kinds.push_back(kind);
    }
    ScheduleLoad load;
    for (ScheduleKind const& kind : job.kinds) load.of_kind.push_back(kind.copies);
    job.loads = {load};
    return job;
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(unsigned char const* data, std::size_t size) {
    std::string_view const text(reinterpret_cast<char const*>(data), size);
    (void)day_from_text(text.substr(0, 16));
    Outcome<RangeSpec> const spec = range_from_json(text);
    if (!spec) {
        if (spec.problem().what.empty() || spec.problem().sentence().find('\n') != std::string::npos) std::abort();
        return 0;
    }
    Outcome<RangeSpec> const again = range_from_json(range_to_json(*spec));
    // Bytes that are not UTF-8 never come so far: the parser refuses them.
    if (!again || !(*again == *spec)) std::abort();
    if (spec->pieces.size() > 4) return 0;
    ScheduleOptions options;
    options.most_orders = 3;
    Outcome<Schedule> const schedule = plan_schedule(job_for(*spec), options);
    if (!schedule) return schedule.problem().what.empty() ? (std::abort(), 0) : 0;
    if (schedule->done < schedule->least) std::abort();
    return 0;
}
