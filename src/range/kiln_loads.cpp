#include "range/kiln_loads.h"

#include "base/random.h"
#include "range/load_bound.h"
#include "range/shelf_fit.h"

#include <algorithm>
#include <fmt/format.h>
#include <numeric>
#include <set>

namespace leafwright {

namespace {

constexpr int kDives = 400;

struct Layer {
    std::vector<int> of_kind;
    double height_mm = 0;
};

struct Filling {
    std::vector<Layer> layers;
    double used_mm = 0; // of the height, without a shelf on top
    std::vector<int> of_kind;
};

// What keeps two kinds out of one load, but for room.
struct Company {
    ShelfSpec const& shelves;
    std::vector<LoadPiece> const& pieces;

    bool agree(int a, int b) const {
        LoadPiece const& p = pieces[static_cast<std::size_t>(a)];
        LoadPiece const& q = pieces[static_cast<std::size_t>(b)];
        if (std::abs(p.top_degC - q.top_degC) > shelves.top_play_degC + 1e-9) return false;
        if (!shelves.mix_schedules && p.own_segments != q.own_segments) return false;
        return p.own_segments == q.own_segments && !p.own_segments.empty()
                   ? true
                   : std::abs(p.hours_up - q.hours_up) <= shelves.hours_play + 1e-9;
    }
    bool joins(int kind, std::vector<int> const& of_kind) const {
        for (std::size_t k = 0; k < of_kind.size(); ++k)
            if (of_kind[k] > 0 && !agree(kind, static_cast<int>(k))) return false;
        return true;
    }
};

// Depth first over all ways to put the pieces, highest first: beside others on a shelf, on a new shelf, in a new load.
// The first piece of a shelf is its highest, so a shelf's height never changes.
class LoadSearch {
public:
    LoadSearch(ShelfFit& fit, Company const& company, std::vector<int> items, int least, LoadOptions const& options)
        : fit_(fit),
          company_(company),
          items_(std::move(items)),
          least_(least),
          nodes_left_(options.most_nodes),
          gap_mm_(company.shelves.post_gap_mm + company.shelves.shelf_thickness_mm),
          random_(options.seed) {}

    std::vector<Filling> run() {
        for (std::size_t i = 0; i < items_.size(); ++i) best_.push_back(started()); // each in a load of its own
        for (std::size_t i = 0; i < items_.size(); ++i) put(best_[i], 0, items_[i]);
        for (int failed = 0; failed < kDives && !is_done();) failed = dive(failed > 0) ? 0 : failed + 1;
        loads_.clear();
        if (!is_done()) place(0);
        return best_;
    }
    bool all_tried() const { return nodes_left_ > 0 && !fit_.gave_up(); }

private:
    double height_of(int kind) const { return fit_.stances()[static_cast<std::size_t>(kind)].height_mm; }
    bool is_done() const { return !best_.empty() && static_cast<int>(best_.size()) <= least_; }

    // One filling by chance with a load less than the best; true when all found room. What comes early decides much,
    // and the search below comes back to it late. The first one puts pieces side by side wherever it can.
    bool dive(bool by_chance) {
        loads_.assign(best_.size() - 1, started());
        double const upward = by_chance ? random_.unit() : 0; // how readily it begins another shelf
        for (int kind : items_) {
            std::vector<std::pair<std::size_t, std::size_t>> beside, above; // load and shelf
            for (std::size_t l = 0; l < loads_.size(); ++l) {
                if (!company_.joins(kind, loads_[l].of_kind)) continue;
                for (std::size_t s = 0; s < loads_[l].layers.size(); ++s) {
                    std::vector<int> set = loads_[l].layers[s].of_kind;
                    ++set[static_cast<std::size_t>(kind)];
                    if (fit_.fits(set)) beside.emplace_back(l, s);
                }
                double const gap = loads_[l].layers.empty() ? 0 : gap_mm_;
                if (loads_[l].used_mm + gap + height_of(kind) <= fit_.room_height_mm() + 1e-6)
                    above.emplace_back(l, loads_[l].layers.size());
                if (!by_chance && (!beside.empty() || !above.empty())) break;
            }
            if (beside.empty() && above.empty()) return false;
            auto const& from = beside.empty() || (!above.empty() && random_.unit() < upward) ? above : beside;
            auto const [l, s] = from[random_.below(static_cast<std::uint32_t>(from.size()))];
            put(loads_[l], s, kind);
        }
        std::erase_if(loads_, [](Filling const& load) { return load.layers.empty(); });
        best_ = loads_;
        return true;
    }

    void place(std::size_t at) {
        if (at == items_.size()) {
            if (best_.empty() || loads_.size() < best_.size()) best_ = loads_;
            return;
        }
        if (!best_.empty() && (loads_.size() >= best_.size() || --nodes_left_ <= 0)) return;
        int const kind = items_[at];
        beside_others(at, kind);
        on_new_shelves(at, kind);
        if (is_done() || (!best_.empty() && loads_.size() + 1 >= best_.size())) return;
        loads_.push_back(started());
        put(loads_.back(), loads_.back().layers.size(), kind);
        place(at + 1);
        loads_.pop_back();
    }

    Filling started() const { return {{}, 0, std::vector<int>(company_.pieces.size(), 0)}; }

    void beside_others(std::size_t at, int kind) {
        std::set<std::vector<int>> seen; // shelves alike are tried once
        for (std::size_t l = 0; l < loads_.size(); ++l) {
            if (!company_.joins(kind, loads_[l].of_kind)) continue;
            for (std::size_t s = 0; s < loads_[l].layers.size(); ++s) {
                std::vector<int> set = loads_[l].layers[s].of_kind;
                ++set[static_cast<std::size_t>(kind)];
                std::vector<int> mark = set;
                mark.insert(mark.end(), loads_[l].of_kind.begin(), loads_[l].of_kind.end());
                if (!seen.insert(mark).second || !fit_.fits(set)) continue;
                Filling const before = loads_[l];
                put(loads_[l], s, kind);
                place(at + 1);
                loads_[l] = before;
                if (is_done()) return;
            }
        }
    }

    void on_new_shelves(std::size_t at, int kind) {
        std::set<std::pair<double, std::vector<int>>> seen;
        for (std::size_t l = 0; l < loads_.size() && !is_done(); ++l) {
            if (loads_[l].used_mm + gap_mm_ + height_of(kind) > fit_.room_height_mm() + 1e-6) continue;
            if (!company_.joins(kind, loads_[l].of_kind)) continue;
            if (!seen.insert({loads_[l].used_mm, loads_[l].of_kind}).second) continue;
            Filling const before = loads_[l];
            put(loads_[l], loads_[l].layers.size(), kind);
            place(at + 1);
            loads_[l] = before;
        }
    }

    void put(Filling& load, std::size_t layer, int kind) const {
        if (layer == load.layers.size()) {
            load.used_mm += height_of(kind) + (layer > 0 ? gap_mm_ : 0);
            load.layers.push_back({std::vector<int>(company_.pieces.size(), 0), height_of(kind)});
        }
        ++load.layers[layer].of_kind[static_cast<std::size_t>(kind)];
        ++load.of_kind[static_cast<std::size_t>(kind)];
    }

    ShelfFit& fit_;
    Company const& company_;
    std::vector<int> items_; // kinds, highest first
    int least_;
    int nodes_left_;
    double gap_mm_;
    Random random_;
    std::vector<Filling> loads_;
    std::vector<Filling> best_;
};

// A shelf of n pieces is as high as its highest, so each of them may count with an n-th of its own height and gap; n is
// at most the largest number that was found to lie together with its kind. 0 when there are too many sets to look at.
int least_by_nesting(ShelfFit& fit, Company const& company, std::vector<int> const& group) {
    constexpr std::size_t kMostOnShelf = 6, kMostSets = 400;
    std::vector<std::size_t> most_on(company.pieces.size(), 1);
    std::vector<std::vector<int>> sets(1); // kinds of each set, rising
    std::size_t looked_at = 0;
    for (std::size_t size = 1; !sets.empty(); ++size) {
        std::vector<std::vector<int>> larger;
        for (std::vector<int> const& set : sets)
            for (int kind : group) {
                if (!set.empty() && kind < set.back()) continue;
                std::vector<int> next = set;
                next.push_back(kind);
                std::vector<int> of_kind(company.pieces.size(), 0);
                for (int k : next) ++of_kind[static_cast<std::size_t>(k)];
                if (of_kind[static_cast<std::size_t>(kind)] > company.pieces[static_cast<std::size_t>(kind)].copies)
                    continue;
                if (++looked_at > kMostSets || size > kMostOnShelf) return 0;
                if (!fit.fits(of_kind)) continue;
                for (int k : next) most_on[static_cast<std::size_t>(k)] = size;
                larger.push_back(std::move(next));
            }
        sets = std::move(larger);
    }
    if (fit.gave_up()) return 0;
    double const gap = company.shelves.post_gap_mm + company.shelves.shelf_thickness_mm;
    double heights = 0;
    for (int k : group)
        heights += company.pieces[static_cast<std::size_t>(k)].copies *
                   (fit.stances()[static_cast<std::size_t>(k)].height_mm + gap) /
                   static_cast<double>(most_on[static_cast<std::size_t>(k)]);
    return std::max(1, static_cast<int>(std::ceil(heights / (fit.room_height_mm() + gap) - 1e-9)));
}

KilnMisfit misfit_of(LoadPiece const& piece, Stance const& stance, int kind, double height_mm) {
    std::string const how = stance.standing ? "standing" : "lying";
    bool const too_high = stance.height_mm - height_mm >= stance.missing_mm - 1e-9;
    return {kind,
            fmt::format("{} does not go into the kiln for the {} firing: {} it is {:.0f} mm too {}, with the clearance",
                        piece.name, piece.firing_name, how, std::ceil(stance.missing_mm),
                        too_high ? "high" : "large for the shelf"),
            fmt::format("Make its former at least {:.0f} mm smaller, keep less clearance if your kiln allows it, or "
                        "fire it in a larger kiln",
                        std::ceil(stance.missing_mm))};
}

// Kinds that can come together in loads, directly or by way of others.
std::vector<std::vector<int>> companies(Company const& company, std::vector<int> kinds) {
    std::vector<std::vector<int>> groups;
    while (!kinds.empty()) {
        std::vector<int> group = {kinds.front()};
        kinds.erase(kinds.begin());
        for (std::size_t i = 0; i < group.size(); ++i)
            std::erase_if(kinds, [&](int kind) {
                bool const joins = company.agree(group[i], kind);
                if (joins) group.push_back(kind);
                return joins;
            });
        groups.push_back(std::move(group));
    }
    return groups;
}

KilnLoad load_of(KilnSpec const& kiln, ShelfSpec const& shelves, std::vector<LoadPiece> const& pieces,
                 Filling const& filling, ShelfFit& fit) {
    KilnLoad load;
    load.of_kind = filling.of_kind;
    load.used_height_mm = filling.used_mm;
    double base = 0, covered = 0;
    for (Layer const& layer : filling.layers) {
        load.shelves.push_back({base, layer.height_mm, fit.places(layer.of_kind)});
        base += layer.height_mm + shelves.post_gap_mm + shelves.shelf_thickness_mm;
        for (ShelfPlace const& place : load.shelves.back().places) covered += area(place.outline_mm);
    }
    load.filled = covered / (fit.floor_mm2() * static_cast<double>(std::max<std::size_t>(1, load.shelves.size())));
    bool first = true;
    for (std::size_t k = 0; k < pieces.size(); ++k) {
        if (load.of_kind[k] == 0) continue;
        LoadPiece const& p = pieces[k];
        load.mass_g += load.of_kind[k] * p.mass_g;
        if (first || p.top_degC > load.top_degC) load.hottest = static_cast<int>(k);
        if (first || p.hours_up > load.hours_up) load.slowest = static_cast<int>(k);
        load.top_degC = std::max(first ? 0.0 : load.top_degC, p.top_degC);
        load.hours_up = std::max(load.hours_up, p.hours_up);
        load.hours_down = std::max(load.hours_down, p.hours_down);
        load.firing = p.firing;
        load.firing_name = p.firing_name;
        first = false;
    }
    load.kWh = load_kWh(kiln, pieces, load.of_kind);
    return load;
}

} // namespace

double load_kWh(KilnSpec const& kiln, std::vector<LoadPiece> const& pieces, std::vector<int> const& of_kind) {
    double lining = 0, ware = 0;
    for (std::size_t k = 0; k < pieces.size(); ++k) {
        if (of_kind[k] == 0) continue;
        bool const by_meter = kiln.kWh > 0; // it counts what is in the kiln too
        lining = std::max(lining, pieces[k].kWh - (by_meter ? 0 : pieces[k].ware_kWh));
        ware += by_meter ? 0 : of_kind[k] * pieces[k].ware_kWh;
    }
    return lining + ware;
}

LoadsAnswer fill_kiln(KilnSpec const& kiln, ShelfSpec const& shelves, std::vector<LoadPiece> const& pieces,
                      LoadOptions const& options) {
    ShelfFit fit(kiln, shelves, pieces, options);
    LoadsAnswer answer;
    answer.floor_mm2 = fit.floor_mm2();
    answer.room_height_mm = fit.room_height_mm();
    answer.all_tried = true;
    std::vector<int> kinds;
    for (std::size_t k = 0; k < pieces.size(); ++k) {
        Stance const& stance = fit.stances()[k];
        if (pieces[k].copies > 0 && stance.fits) kinds.push_back(static_cast<int>(k));
        if (!stance.fits)
            answer.misfits.push_back(misfit_of(pieces[k], stance, static_cast<int>(k), fit.room_height_mm()));
    }
    Company const company{shelves, pieces};
    bool all_by_shelves = true;
    for (std::vector<int> const& group : companies(company, kinds)) {
        std::vector<int> items;
        for (int kind : group)
            items.insert(items.end(), static_cast<std::size_t>(pieces[static_cast<std::size_t>(kind)].copies), kind);
        std::ranges::stable_sort(items, [&](int a, int b) {
            return fit.stances()[static_cast<std::size_t>(a)].height_mm >
                   fit.stances()[static_cast<std::size_t>(b)].height_mm;
        });
        LoadBound const bound = least_loads(shelves, fit, pieces, group);
        LoadSearch search(fit, company, std::move(items), bound.least, options);
        std::vector<Filling> const fillings = search.run();
        for (Filling const& filling : fillings) answer.loads.push_back(load_of(kiln, shelves, pieces, filling, fit));
        answer.all_tried = answer.all_tried && search.all_tried();
        bool const is_best = static_cast<int>(fillings.size()) <= bound.least;
        int const by_shelves = is_best ? bound.least : least_by_nesting(fit, company, group);
        all_by_shelves = all_by_shelves && by_shelves > 0;
        answer.least_by_shelves += std::max(bound.least, by_shelves);
        answer.least += bound.least;
        if (answer.least_by.empty() || bound.least > 1) answer.least_by = bound.by;
    }
    if (!all_by_shelves) answer.least_by_shelves = 0;
    return answer;
}

} // namespace leafwright
