#include "slab/drape.h"

#include "base/units.h"
#include "slab/drape_ladder.h"
#include "slab/drape_region.h"
#include "slab/drape_survey.h"
#include "slab/flat_outline.h"
#include "slab/slab_ways.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kFillet_mm = 4; // the middle surface ends at the rim; its skirt is not read
constexpr int kPreviewTriangles = 1350;

// A slab that is alike on no side is solved with one vertex held; turned and moved here to lie as the piece hangs: as
// near as may be to the slab that sticks.
void lay_straight(Membrane const& membrane, std::span<Vec2 const> stuck, std::vector<Vec2>& flat) {
    Vec2 middle(0, 0), stuck_middle(0, 0);
    double weight = 0, along = 0, across = 0;
    auto const each = [&](auto const& visit) {
        for (RestTriangle const& t : membrane.triangles())
            for (std::int32_t v : t.vertex) visit(t.area, static_cast<std::size_t>(v));
    };
    each([&](double area, std::size_t v) {
        middle += area * flat[v];
        stuck_middle += area * stuck[v];
        weight += area;
    });
    middle /= weight;
    stuck_middle /= weight;
    each([&](double area, std::size_t v) {
        along += area * glm::dot(flat[v] - middle, stuck[v] - stuck_middle);
        across += area * cross(flat[v] - middle, stuck[v] - stuck_middle);
    });
    double const length = std::hypot(along, across), c = along / length, s = across / length;
    for (Vec2& p : flat) {
        Vec2 const q = p - middle;
        p = stuck_middle + Vec2(c * q.x - s * q.y, s * q.x + c * q.y);
    }
}

struct Laid {
    DrapeMesh mesh; // whole
    Membrane membrane;
    std::vector<Vec2> stuck, sliding, flat; // flat: at the slab's grip
    bool settled = true;
    std::string why_not;
    int steps = 0;
};

void judge(LadderResult const& solved, Laid& laid) {
    laid.steps = solved.steps_in_all;
    laid.settled = solved.upright && solved.solve.settled;
    if (!solved.upright)
        laid.why_not = "the outline turns in and out too sharply for the mesh: the figures are those of a slab that "
                       "sticks where it first touches";
    else if (!solved.solve.settled)
        laid.why_not = "the slab did not come to rest: the figures are the best found";
}

Laid lay_out(MeridianTable const& middle, SlabSpec const& spec, DrapeDomain const& domain, LadderResult const& solved,
             DrapeOptions const& options) {
    Laid laid;
    laid.mesh = make_drape_mesh(middle, domain.whole, solved.mesh.rings, options.openings);
    laid.membrane = Membrane(laid.mesh, options.law);
    laid.stuck = stuck_positions(laid.mesh);
    laid.sliding = mirror_out(laid.mesh, solved.mesh, domain.mirrors, solved.solve.flat);
    if (domain.mirrors == Mirrors::none) lay_straight(laid.membrane, laid.stuck, laid.sliding);
    judge(solved, laid);
    laid.flat = laid.sliding;
    for (std::size_t v = 0; v < laid.flat.size(); ++v) laid.flat[v] += spec.grip * (laid.stuck[v] - laid.sliding[v]);
    if (laid.settled && !laid.membrane.is_upright(laid.flat)) {
        laid.flat = laid.sliding;
        laid.settled = false;
        laid.why_not = "between sliding and sticking this slab would fold: the figures are those of one that slides";
    }
    return laid;
}

void put_outlines(MeridianTable const& middle, SlabSpec const& spec, Laid const& laid, bool open, double flat_mm2,
                  SlabAnswer& answer) {
    answer.sliding_mm = rim_with_notches(laid.mesh, laid.sliding);
    answer.sliding_mm2 = signed_area(answer.sliding_mm);
    answer.sticking_mm2 = unrolled_area(middle, 0);
    answer.sticking_mm = unrolled_outline(middle, 0, answer.sticking_mm2);
    answer.outline_mm =
        outline_to_cut(rim_without_notches(laid.mesh, laid.sliding), answer.sticking_mm, spec.trim_allowance_mm);
    answer.flat_mm2 = signed_area(answer.outline_mm);
    answer.bounds_mm = bounds(answer.outline_mm).size();
    answer.volume_mm3 = answer.flat_mm2 * spec.thickness_mm;
    // Inside a smooth rim, which the triangles fall short of; openings have no such line.
    double const kept = open ? flat_mm2 : signed_area(rim_with_notches(laid.mesh, laid.flat));
    answer.shell_mm3 = kept * spec.thickness_mm;
    answer.trimmed_mm3 = answer.volume_mm3 - answer.shell_mm3;
    answer.too_wide = check_width(answer.outline_mm, spec.sheet_width_mm);
}

void put_survey(SlabSpec const& spec, DrapeSurvey survey, SlabAnswer& answer) {
    answer.thickness_mm.rolled = spec.thickness_mm;
    answer.thickness_mm.least = spec.thickness_mm * survey.least_product;
    answer.thickness_mm.most = spec.thickness_mm * survey.most_product;
    answer.thickness_mm.mean = answer.shell_mm3 / answer.draped_mm2;
    answer.stretch_least = survey.stretch_least;
    answer.stretch_most = survey.stretch_most;
    answer.rms_stretch = survey.rms_stretch;
    answer.pucker_mm2 = survey.pucker_mm2;
    answer.surplus_rim_mm = survey.surplus_rim_mm;
    answer.tears = survey.stretch_most > 1 + spec.stretch_limit;
    answer.most_stretched = survey.most_stretched;
    answer.map = std::make_shared<SlabMap const>(std::move(survey.map));
}

// A sheet no wider than it can be rolled lies centred along the slab's narrowest way.
void put_uncovered(Laid const& laid, double sheet_width_mm, SlabAnswer& answer) {
    Strip const strip = narrowest_strip(rim_without_notches(laid.mesh, laid.flat));
    if (strip.width <= sheet_width_mm) return;
    answer.uncovered_mm = 0.5 * (strip.width - sheet_width_mm);
    double const middle = strip.low + 0.5 * strip.width;
    for (RestTriangle const& t : laid.membrane.triangles()) {
        auto const beyond = [&](std::size_t i) {
            Vec2 const& p = laid.flat[static_cast<std::size_t>(t.vertex[i])];
            return std::abs(glm::dot(p, strip.across) - middle) - 0.5 * sheet_width_mm;
        };
        answer.uncovered_mm2 += t.area * share_above(beyond(0), beyond(1), beyond(2));
    }
}

void put_cuts(SlabSpec const& spec, Laid const& laid, SlabAnswer& answer) {
    for (SlabCut const& cut : spec.cuts) {
        std::size_t best = 0;
        double least = 1e300;
        for (std::size_t s = 0; s < static_cast<std::size_t>(laid.mesh.sectors()); ++s) {
            double const off =
                std::abs(std::remainder(radians(cut.azimuth_deg) - laid.mesh.region.spokes[s].azimuth_rad, kTwoPi));
            if (off < least) least = off, best = s;
        }
        answer.cuts.push_back(notch_at(laid.mesh, best, laid.flat));
        answer.cuts.back().cut = cut;
    }
}

SlabAnswer answer_of(MeridianTable const& middle, SlabSpec const& spec, Laid const& laid, DrapeOptions const& options) {
    SlabAnswer answer;
    DrapeSurvey survey = survey_drape(laid.mesh, laid.membrane, laid.flat, spec.thickness_mm);
    bool const open = !options.openings.empty();
    answer.draped_mm2 = open ? survey.laid_mm2 : middle.area_mm2();
    put_outlines(middle, spec, laid, open, survey.flat_mm2, answer);
    put_survey(spec, std::move(survey), answer);
    put_uncovered(laid, spec.sheet_width_mm, answer);
    put_cuts(spec, laid, answer);
    answer.settled = laid.settled;
    answer.why_not = laid.why_not;
    answer.steps = laid.steps;
    return answer;
}

} // namespace

struct DrapeEngine::Memory {
    DrapeLadder fine, preview;
};

DrapeEngine::DrapeEngine() : memory_(std::make_unique<Memory>()) {}
DrapeEngine::~DrapeEngine() = default;
DrapeEngine::DrapeEngine(DrapeEngine&&) noexcept = default;
DrapeEngine& DrapeEngine::operator=(DrapeEngine&&) noexcept = default;

Outcome<SlabAnswer> DrapeEngine::drape(Former const& former, SlabSpec const& spec, DrapeOptions const& options,
                                       Task& task) {
    if (auto problem = check_slab(spec)) return *problem;
    MeridianTable const middle = MeridianTable::build(former, 0.5 * spec.thickness_mm, kFillet_mm);
    bool const mirrored = options.use_mirrors && options.openings.empty();
    Mirrors const mirrors = mirrored ? mirrors_of(former.spec(), spec.cuts) : Mirrors::none;
    DrapeDomain const domain = drape_domain(middle, mirrors, spec.cuts);
    LadderOptions const ladder{rings_for(domain.whole, options.triangles), options.tolerance, options.law,
                               options.openings};
    LadderResult const solved = memory_->fine.solve(middle, domain.part, ladder, task);
    if (solved.solve.cancelled) return Problem{"cancelled", "slab", "was not worked out", "", ProblemKind::refusal};
    SlabAnswer answer = answer_of(middle, spec, lay_out(middle, spec, domain, solved, options), options);
    if (options.propose && answer.pucker_mm2 > kPuckerTaken * answer.draped_mm2) {
        answer.proposed_cuts = propose_cuts_on(middle, former.spec());
        answer.ways =
            compare_ways_on(middle, former.spec(), spec, spec.cuts.empty() ? answer.proposed_cuts : spec.cuts);
    }
    task.progress(1);
    return answer;
}

Outcome<SlabAnswer> DrapeEngine::preview(Former const& former, SlabSpec const& spec) {
    if (auto problem = check_slab(spec)) return *problem;
    MeridianTable const middle = MeridianTable::build(former, 0.5 * spec.thickness_mm, kFillet_mm, true);
    DrapeDomain const domain = drape_domain(middle, mirrors_of(former.spec(), spec.cuts), spec.cuts);
    LadderOptions ladder;
    ladder.rings = rings_for(domain.whole, kPreviewTriangles);
    Task task;
    LadderResult const solved = memory_->preview.follow(middle, domain.part, ladder, task);
    return answer_of(middle, spec, lay_out(middle, spec, domain, solved, {}), {});
}

Outcome<SlabAnswer> drape_slab(Former const& former, SlabSpec const& spec, DrapeOptions const& options) {
    Task task;
    return DrapeEngine().drape(former, spec, options, task);
}

std::vector<SlabCut> propose_cuts(Former const& former, SlabSpec const& spec) {
    return propose_cuts_on(MeridianTable::build(former, 0.5 * spec.thickness_mm, kFillet_mm), former.spec());
}

std::vector<SlabWay> compare_ways(Former const& former, SlabSpec const& spec, std::vector<SlabCut> const& cuts) {
    MeridianTable const middle = MeridianTable::build(former, 0.5 * spec.thickness_mm, kFillet_mm);
    return compare_ways_on(middle, former.spec(), spec, cuts);
}

} // namespace leafwright
