#include "cutting/disturb.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr std::size_t kMostKept = 100;
constexpr float kSameLoss = 1e-3F;
constexpr double kLargeShare = 0.75; // the large pieces make up so much of all hulls

double hull_of(Crowd const& crowd, int i) {
    NestModel const& model = crowd.model();
    return model.shapes[static_cast<std::size_t>(model.pieces[static_cast<std::size_t>(i)].shape)].hull_mm2;
}

int shape_of(Crowd const& crowd, int i) { return crowd.model().pieces[static_cast<std::size_t>(i)].shape; }

std::vector<int> large_pieces(Crowd const& crowd) {
    std::vector<int> movable;
    double whole = 0, sum = 0;
    for (int i = 0; i < crowd.size(); ++i)
        if (!crowd.is_pinned(i)) movable.push_back(i), whole += hull_of(crowd, i);
    std::ranges::stable_sort(movable, std::greater<>{}, [&](int i) { return hull_of(crowd, i); });
    std::size_t large = 0;
    while (large < movable.size() && sum < kLargeShare * whole) sum += hull_of(crowd, movable[large++]);
    movable.resize(large);
    return movable;
}

void put(Crowd& crowd, int i, Vec2 at) {
    int const number = crowd.pose(i).number;
    if (crowd.settle(number, at)) crowd.move(i, number, at);
}

std::vector<int> within(Crowd const& crowd, int i, int but) {
    Box2 const& box = crowd.turned(crowd.pose(i).number).box;
    std::vector<int> inside;
    for (int k = 0; k < crowd.size(); ++k)
        if (k != i && k != but && !crowd.is_pinned(k) && hull_of(crowd, k) < hull_of(crowd, i) &&
            box.contains(crowd.pose(k).at - crowd.pose(i).at))
            inside.push_back(k);
    return inside;
}

void swap_places(Crowd& crowd, int a, int b) {
    Vec2 const at_a = crowd.pose(a).at, at_b = crowd.pose(b).at;
    std::vector<int> const with_a = within(crowd, a, b), with_b = within(crowd, b, a);
    put(crowd, a, at_b);
    put(crowd, b, at_a);
    for (int k : with_a) put(crowd, k, crowd.pose(k).at + at_b - at_a);
    for (int k : with_b)
        if (std::ranges::find(with_a, k) == with_a.end()) put(crowd, k, crowd.pose(k).at + at_a - at_b);
}

} // namespace

void NearMisses::add(Layout const& layout, float loss) {
    auto const at = std::ranges::lower_bound(kept_, loss, {}, &Kept::loss);
    auto const same = [&](Kept const& k) { return std::abs(k.loss - loss) <= kSameLoss * loss; };
    if ((at != kept_.end() && same(*at)) || (at != kept_.begin() && same(*std::prev(at)))) return;
    kept_.insert(at, {layout, loss});
    if (kept_.size() > kMostKept) kept_.pop_back();
}

Layout const& NearMisses::pick(Random& random) const {
    double const u = random.unit();
    return kept_[static_cast<std::size_t>(u * u * static_cast<double>(kept_.size()))].layout;
}

void disturb(Crowd& crowd, Random& random) {
    std::vector<int> const large = large_pieces(crowd);
    if (large.size() < 2) return;
    auto const any = [&] { return large[random.below(static_cast<std::uint32_t>(large.size()))]; };
    int const a = any();
    int b = any();
    for (int tries = 0; tries < 20 && shape_of(crowd, a) == shape_of(crowd, b); ++tries) b = any();
    if (a != b) swap_places(crowd, a, b);
}

} // namespace leafwright
