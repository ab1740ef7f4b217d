#include "drying/cracks.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

// The estimates below were chosen with the classes of the demo pieces in view (fair under polythene): a class compares
// pieces and covers with one another. It has not been set against clay that did or did not crack.
//
// What plastic clay bears against what it bears once its shrinkage is over. A coil as thick as a finger bends round a
// finger before it cracks, its outer side some tenths longer (common practice, no source): 9 % (3 to 30 %) against the
// tenths of a percent of stiff clay, whose level is the spec's.
constexpr double kPlasticOverStiff = 30;
// From misfit to pull (stress over stiffness). A patch that would be smaller than the plate of the same clay that it
// sits in bears half of it (Lame's ring: E e/2 whatever Poisson's ratio); a thin skin, held both ways by what is
// beneath it, e/(1 - nu) (Hooke's law in the plane). Over days water leaves as the clay is strained, so nu is that of
// drained clay, 0.2 to 0.4 (soil mechanics texts, from memory).
constexpr double kBeside = 0.5;
constexpr double kThrough = 1 / (1 - 0.3);
// Strain creeps away while the clay is soft: the reason why slow drying helps. Estimates, no source.
constexpr double kCreepPlastic_h = 24;
constexpr double kCreepStiffer = 4; // times that at the end of shrinkage

// Sums over windows of 2 reach + 1 along lines of `count` cells that lie `step` apart.
void window_sums(std::vector<double>& v, std::size_t start, std::size_t step, int count, int reach,
                 std::vector<double>& scratch) {
    scratch.resize(static_cast<std::size_t>(count) + 1);
    scratch[0] = 0;
    for (int i = 0; i < count; ++i) {
        auto const k = static_cast<std::size_t>(i);
        scratch[k + 1] = scratch[k] + v[start + k * step];
    }
    for (int i = 0; i < count; ++i) {
        auto const from = static_cast<std::size_t>(std::max(0, i - reach));
        auto const to = static_cast<std::size_t>(std::min(count, i + reach + 1));
        v[start + static_cast<std::size_t>(i) * step] = scratch[to] - scratch[from];
    }
}

void window_sums(MapGround const& g, std::vector<double>& v, int reach) {
    std::vector<double> scratch;
    auto const columns = static_cast<std::size_t>(g.columns);
    for (int row = 0; row < g.rows; ++row)
        window_sums(v, static_cast<std::size_t>(row) * columns, 1, g.columns, reach, scratch);
    for (std::size_t column = 0; column < columns; ++column) window_sums(v, column, columns, g.rows, reach, scratch);
}

// 1 when plastic, 0 from the end of shrinkage on.
double wetness(double water, DryingClay const& clay) {
    return std::clamp((water - clay.shrinkage_end) / std::max(1e-6, clay.water - clay.shrinkage_end), 0.0, 1.0);
}

// Times what stiff clay bears.
double toughness(double wet) { return std::pow(kPlasticOverStiff, wet); }

} // namespace

std::vector<float> mean_around(MapGround const& ground, std::vector<float> const& value, double radius_mm) {
    std::vector<double> sum(value.size());
    std::vector<double> weight(value.size());
    for (std::size_t i = 0; i < value.size(); ++i) {
        weight[i] = static_cast<double>(ground.dry_g[i]);
        sum[i] = weight[i] * static_cast<double>(value[i]);
    }
    // A square of the same area as the disc.
    int const reach = std::max(1, static_cast<int>(std::lround(0.886 * radius_mm / ground.cell_mm)));
    window_sums(ground, sum, reach);
    window_sums(ground, weight, reach);
    std::vector<float> mean(value.size(), 0.0F);
    for (std::size_t i = 0; i < mean.size(); ++i)
        if (ground.dry_g[i] > 0) mean[i] = static_cast<float>(sum[i] / weight[i]);
    return mean;
}

CrackWatch::CrackWatch(MapGround const& ground, DryingClay const& clay, Figure const& stretch)
    : ground_(ground), clay_(clay), stretch_(stretch) {
    float const thickest =
        ground.thick_mm.empty() ? 0 : *std::max_element(ground.thick_mm.begin(), ground.thick_mm.end());
    radius_mm_ = std::min(50.0, 2 * static_cast<double>(thickest));
    around_thick_ = mean_around(ground, ground.thick_mm, radius_mm_);
    misfit_.assign(ground.dry_g.size(), 0.0);
    pull_ = misfit_;
}

void CrackWatch::look(double hour, std::vector<float> const& water, std::vector<float> const& surface) {
    double const per_water = clay_.drying_shrinkage / std::max(0.02, clay_.water - clay_.shrinkage_end);
    auto const shrunk = [&](float x) { return std::max(static_cast<double>(x), clay_.shrinkage_end); };
    std::vector<float> held(water.size(), 0.0F);
    for (std::size_t i = 0; i < water.size(); ++i)
        if (ground_.dry_g[i] > 0) held[i] = static_cast<float>(shrunk(water[i]));
    std::vector<float> const around = mean_around(ground_, held, radius_mm_);
    for (std::size_t i = 0; i < water.size(); ++i) {
        if (!ground_.held[i]) continue;
        double const beside = std::max(0.0, static_cast<double>(around[i] - held[i]));
        double const through = std::max(0.0, static_cast<double>(held[i]) - shrunk(surface[i]));
        double const misfit = per_water * (kBeside * beside + kThrough * through);
        double const wet = wetness(static_cast<double>(water[i]), clay_);
        // Maxwell: what is added now stands, what stood before creeps away.
        double const creep = std::exp(-(hour - last_hour_) / (kCreepPlastic_h * std::pow(kCreepStiffer, 1 - wet)));
        pull_[i] = std::max(0.0, pull_[i] * creep + misfit - misfit_[i]);
        misfit_[i] = misfit;
        double const index = pull_[i] / (stretch_.value * toughness(wet));
        if (index <= most_) continue;
        most_ = index;
        pull_most_ = pull_[i];
        wet_most_ = wet;
        hour_ = hour;
        at_ = i;
        by_neighbours_ = kBeside * beside >= kThrough * through;
    }
    last_hour_ = hour;
}

CrackAnswer CrackWatch::answer() const {
    CrackAnswer a;
    if (ground_.dry_g.empty()) return a;
    a.index_most = most_;
    a.pull = pull_most_;
    a.bears = stretch_ * toughness(wet_most_);
    a.found = a.pull <= a.bears.low ? CrackClass::low : a.pull <= a.bears.high ? CrackClass::fair : CrackClass::high;
    a.day = hour_ / 24;
    auto const columns = static_cast<std::size_t>(ground_.columns);
    std::size_t const row = at_ / columns;
    a.chart = ground_.origin_mm + ground_.cell_mm * Vec2(static_cast<double>(at_ % columns), static_cast<double>(row));
    a.thickness_mm = static_cast<double>(ground_.thick_mm[at_]);
    a.around_mm = static_cast<double>(around_thick_[at_]);
    a.by_neighbours = by_neighbours_;
    if (by_neighbours_) {
        a.why = fmt::format("Clay of {:.0f} mm beside clay of {:.0f} mm dries and shrinks first, and is held by it",
                            a.thickness_mm, a.around_mm);
        a.help = "Cover thin places and the rim, dry more slowly, or hollow the back where it is thick";
    } else {
        a.why = fmt::format("The skin of clay {:.0f} mm thick dries and shrinks before its inside", a.thickness_mm);
        a.help = "Dry more slowly under its cover, make it thinner, or hollow the back";
    }
    return a;
}

} // namespace leafwright
