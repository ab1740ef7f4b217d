// Every key of a piece file, once: its name, the value it stands for, its range. Reading, writing, checking and
// bringing values back within range all walk these tables, so they cannot disagree.
//
// fields(visitor, value) calls the visitor for each key in the order of the file. A visitor has: number, angle, whole,
// seed, flag, text, choice, word, words, numbers, points, figure, object, list.
#pragma once

#include "piece/piece.h"

#include <array>
#include <concepts>
#include <limits>
#include <type_traits>

namespace leafwright {

struct Range {
    double low = 0;
    double high = 0;
};

enum class Need { optional, required };

template <class Enum> struct Word {
    Enum value;
    std::string_view name;
};

inline constexpr std::array kOutlineWords = {
    Word<OutlineKind>{OutlineKind::round, "round"}, Word<OutlineKind>{OutlineKind::oval, "oval"},
    Word<OutlineKind>{OutlineKind::egg, "egg"}, Word<OutlineKind>{OutlineKind::rounded, "rounded"},
    Word<OutlineKind>{OutlineKind::free, "free"}};
inline constexpr std::array kProfileWords = {
    Word<ProfileKind>{ProfileKind::dome, "dome"}, Word<ProfileKind>{ProfileKind::saucer, "saucer"},
    Word<ProfileKind>{ProfileKind::full, "full"}, Word<ProfileKind>{ProfileKind::tape, "tape"}};
inline constexpr std::array kFeatureWords = {
    Word<FeatureKind>{FeatureKind::boss, "boss"},       Word<FeatureKind>{FeatureKind::ridge, "ridge"},
    Word<FeatureKind>{FeatureKind::opening, "opening"}, Word<FeatureKind>{FeatureKind::eye, "eye"},
    Word<FeatureKind>{FeatureKind::nose, "nose"},       Word<FeatureKind>{FeatureKind::mouth, "mouth"},
    Word<FeatureKind>{FeatureKind::ear, "ear"},         Word<FeatureKind>{FeatureKind::petal, "petal"}};
inline constexpr std::array kCoverWords = {Word<Cover>{Cover::polythene, "polythene"},
                                           Word<Cover>{Cover::vented, "vented"}, Word<Cover>{Cover::open, "open"}};
inline constexpr std::array kFinishWords = {
    Word<FinishKind>{FinishKind::none, "none"}, Word<FinishKind>{FinishKind::oxide_wash, "oxide-wash"},
    Word<FinishKind>{FinishKind::glaze, "glaze"}, Word<FinishKind>{FinishKind::cold, "cold"}};
inline constexpr std::array kKilnWords = {Word<KilnShape>{KilnShape::box, "box"},
                                          Word<KilnShape>{KilnShape::round, "round"}};
inline constexpr std::array kLeafSourceWords = {Word<LeafSource>{LeafSource::traced, "traced"},
                                                Word<LeafSource>{LeafSource::svg, "svg"},
                                                Word<LeafSource>{LeafSource::drawn, "drawn"}};
inline constexpr std::array kVeinPatternWords = {
    Word<VeinPattern>{VeinPattern::pinnate, "pinnate"}, Word<VeinPattern>{VeinPattern::lobed, "lobed"},
    Word<VeinPattern>{VeinPattern::palmate, "palmate"}, Word<VeinPattern>{VeinPattern::parallel, "parallel"},
    Word<VeinPattern>{VeinPattern::forking, "forking"}, Word<VeinPattern>{VeinPattern::none, "none"},
    Word<VeinPattern>{VeinPattern::drawn, "drawn"}};
inline constexpr std::array kGrainWords = {Word<Grain>{Grain::free, "free"}, Word<Grain>{Grain::along, "along"}};
inline constexpr std::array<std::string_view, 2> kHangingKinds = {"lugs", "holes"};

inline constexpr std::size_t kMostLeaves = 5000;
inline constexpr std::size_t kMostFeatures = 200;
inline constexpr std::size_t kMostKinds = 200;
inline constexpr std::size_t kMostOwnLeaves = 60;
inline constexpr std::size_t kMostRules = 60;
inline constexpr std::size_t kMostFirings = 10;
inline constexpr std::size_t kMostSegments = 20;
inline constexpr std::size_t kMostPhases = 20;
inline constexpr std::size_t kMostReadings = 50;
inline constexpr std::size_t kMostTiles = 20;
inline constexpr std::size_t kMostPoints = 500;
inline constexpr std::size_t kMostCuts = 24;
inline constexpr std::size_t kMostPins = 5000;
inline constexpr int kMostLeafId = 1'000'000'000;
inline constexpr int kMostRow = 99;

template <class S, class Spec>
concept Either = std::same_as<std::remove_const_t<S>, Spec>;

template <class V, Either<OutlineSpec> S> void fields(V& v, S& s) {
    v.word("kind", s.kind, kOutlineWords, Need::optional);
    v.number("width_mm", s.width_mm, Range{40, 1200});
    v.number("height_mm", s.height_mm, Range{40, 1200});
    v.number("upper_share", s.upper_share, Range{0.2, 0.8});
    v.number("squareness", s.squareness, Range{2, 8});
    v.points("points_mm", s.points_mm, Range{-1200, 1200}, kMostPoints);
}

template <class V, Either<ProfileSpec> S> void fields(V& v, S& s) {
    v.word("kind", s.kind, kProfileWords, Need::optional);
    v.number("crown_mm", s.crown_mm, Range{3, 500});
    v.number("fullness", s.fullness, Range{1.5, 8});
    v.number("tape_across_mm", s.tape_across_mm, Range{0, 5000});
    v.number("tape_along_mm", s.tape_along_mm, Range{0, 5000});
}

template <class V, Either<FormerSpec> S> void fields(V& v, S& s) {
    v.object("outline", s.outline);
    v.object("profile", s.profile);
}

template <class V, Either<SlabCut> S> void fields(V& v, S& s) {
    v.angle("azimuth_deg", s.azimuth_deg);
    v.number("length_mm", s.length_mm, Range{5, 600});
}

template <class V, Either<SlabSpec> S> void fields(V& v, S& s) {
    v.number("thickness_mm", s.thickness_mm, Range{3, 25});
    v.number("trim_allowance_mm", s.trim_allowance_mm, Range{0, 60});
    v.number("sheet_width_mm", s.sheet_width_mm, Range{100, 1500});
    v.number("stretch_limit", s.stretch_limit, Range{0.01, 1});
    v.number("grip", s.grip, Range{0, 1});
    v.list("cuts", s.cuts, kMostCuts);
}

template <class V, Either<LeafKindSpec> S> void fields(V& v, S& s) {
    v.text("id", s.id, 60, Need::required);
    v.text("outline", s.outline, 120, Need::required);
    v.number("length_mm", s.length_mm, Range{15, 400});
    v.number("thickness_mm", s.thickness_mm, Range{2, 20});
}

// Points that are an entry of a list: a hole of a leaf, a vein drawn in it.
template <class V, Either<Ring> S> void fields(V& v, S& s) {
    v.points("points_mm", s, Range{-2000, 2000}, kMostOwnPoints);
}

// As a leaf file has them too (leaf_file.h).
template <class V, Either<OwnLeaf> S> void fields(V& v, S& s) {
    v.text("id", s.id, 60, Need::required);
    v.text("name", s.name, 120, Need::optional);
    v.text("date", s.date, 60, Need::optional);
    v.text("place", s.place, 200, Need::optional);
    v.word("source", s.source, kLeafSourceWords, Need::optional);
    v.number("scale_error", s.scale_error, Range{0, 1});
    v.number("stalk_mm", s.stalk_mm, Range{0, 1500});
    v.word("veins", s.veins, kVeinPatternWords, Need::optional);
    v.seed("vein_seed", s.vein_seed);
    v.points("midrib_mm", s.midrib_mm, Range{-2000, 2000}, kMostPoints);
    v.points("outline_mm", s.outline_mm.outer, Range{-2000, 2000}, kMostOwnPoints);
    v.list("holes", s.outline_mm.holes, kMostOwnHoles);
    v.list("drawn_veins", s.drawn_veins_mm, kMostDrawnVeins);
}

template <class V, Either<RowRule> S> void fields(V& v, S& s) {
    v.whole("row", s.row, Range{1, kMostRow});
    v.words("kinds", s.kinds, kMostKinds);
    v.number("side_lap", s.side_lap, Range{0, 0.8});
    v.number("head_lap", s.head_lap, Range{0, 0.8});
    v.number("overhang_mm", s.overhang_mm, Range{-50, 80});
    v.number("turn_spread_deg", s.turn_spread_deg, Range{0, 45});
    v.number("size_spread", s.size_spread, Range{0, 0.5});
    v.number("least_lap", s.least_lap, Range{0, 0.6});
    v.number("most_lap", s.most_lap, Range{0.2, 1});
    v.number("least_exposed", s.least_exposed, Range{0, 0.6});
}

template <class V, Either<RowRules> S> void fields(V& v, S& s) {
    v.list("rules", s.rules, kMostRules);
    v.flag("mirror", s.mirror);
    v.number("liveliness", s.liveliness, Range{0, 1});
}

template <class V, Either<LeafPlacement> S> void fields(V& v, S& s) {
    v.whole("id", s.id, Range{1, kMostLeafId}, Need::required);
    v.text("kind", s.kind, 60, Need::required);
    v.whole("row", s.row, Range{1, kMostRow});
    v.angle("azimuth_deg", s.azimuth_deg);
    v.number("from_crown_mm", s.from_crown_mm, Range{0, 2000});
    v.angle("turn_deg", s.turn_deg);
    v.number("scale", s.scale, Range{0.3, 3});
    v.flag("flipped", s.flipped);
    v.flag("pinned", s.pinned);
}

template <class V, Either<Feature> S> void fields(V& v, S& s) {
    v.word("kind", s.kind, kFeatureWords, Need::required);
    v.angle("azimuth_deg", s.azimuth_deg);
    v.number("from_crown_mm", s.from_crown_mm, Range{0, 2000});
    v.number("width_mm", s.width_mm, Range{5, 600});
    v.number("height_mm", s.height_mm, Range{5, 600});
    v.number("rise_mm", s.rise_mm, Range{0, 120});
    v.angle("turn_deg", s.turn_deg);
}

// The ranges of a body are wide: they keep out slips of the pen, not unusual clays.
template <class V, Either<BodySpec> S> void fields(V& v, S& s) {
    v.text("clay", s.clay, 60, Need::optional);
    v.figure("water_dry_basis", s.water_dry_basis, Range{0.05, 0.6});
    v.figure("particle_density_g_cm3", s.particle_density_g_cm3, Range{2, 3.5});
    v.figure("drying_shrinkage", s.drying_shrinkage, Range{0, 0.2});
    v.figure("firing_shrinkage", s.firing_shrinkage, Range{0, 0.25});
    v.figure("first_firing_share", s.first_firing_share, Range{0, 1});
    v.figure("loss_on_ignition", s.loss_on_ignition, Range{0, 0.4});
    v.figure("absorption", s.absorption, Range{0, 0.4});
    v.figure("fracture_strain", s.fracture_strain, Range{2e-5, 5e-3});
    v.figure("expansion_per_K", s.expansion_per_K, Range{1e-6, 2e-5});
    v.number("kneading_spare", s.kneading_spare, Range{0, 1});
}

inline constexpr Range kTileLength{0.1, 2000};
inline constexpr Range kTileMass{0.01, 100000};

template <class V, Either<TileState> S> void fields(V& v, S& s) {
    v.numbers("length_mm", s.length_mm, kTileLength, kMostReadings);
    v.numbers("mass_g", s.mass_g, kTileMass, kMostReadings);
}

template <class V, Either<TileFiring> S> void fields(V& v, S& s) {
    v.text("name", s.name, 60, Need::optional);
    v.number("top_degC", s.top_degC, Range{0, 1400});
    v.numbers("length_mm", s.state.length_mm, kTileLength, kMostReadings);
    v.numbers("mass_g", s.state.mass_g, kTileMass, kMostReadings);
}

template <class V, Either<TestTile> S> void fields(V& v, S& s) {
    v.text("name", s.name, 60, Need::optional);
    v.object("plastic", s.plastic);
    v.object("dry", s.dry);
    v.list("fired", s.firings, kMostFirings);
    v.numbers("soaked_g", s.soaked_g, kTileMass, kMostReadings);
    v.numbers("suspended_g", s.suspended_g, kTileMass, kMostReadings);
}

// As a file of test tiles has them (tile_file.h).
template <class V, Either<TileSet> S> void fields(V& v, S& s) {
    v.number("length_error_mm", s.length_error_mm, Range{0.005, 5});
    v.number("mass_error_g", s.mass_error_g, Range{0.0005, 20});
    v.number("water_g_cm3", s.water_g_cm3, Range{0.95, 1.01});
    v.list("tiles", s.tiles, kMostTiles);
    v.numbers("lump_wet_g", s.lump_wet_g, kTileMass, kMostReadings);
    v.numbers("lump_dry_g", s.lump_dry_g, kTileMass, kMostReadings);
}

template <class V, Either<HangingSpec> S> void fields(V& v, S& s) {
    v.choice("kind", s.kind, kHangingKinds);
    v.number("above_centre_mm", s.above_centre_mm, Range{-600, 600});
    v.number("half_span_mm", s.half_span_mm, Range{5, 600});
    v.text("wire", s.wire, 60, Need::optional);
    v.number("wire_rise_mm", s.wire_rise_mm, Range{5, 600});
    v.number("hook_off_mm", s.hook_off_mm, Range{0, 60});
    v.number("breaking_N", s.breaking_N, Range{0, 100000});
    v.figure("joint_share", s.joint_share, Range{0.005, 1});
}

template <class V, Either<CoverPhase> S> void fields(V& v, S& s) {
    v.word("cover", s.cover, kCoverWords, Need::required);
    v.number("from_day", s.from_day, Range{0, 120});
}

template <class V, Either<Weighing> S> void fields(V& v, S& s) {
    v.number("day", s.day, Range{0, 120});
    v.number("mass_g", s.mass_g, Range{1, 1e6});
}

template <class V, Either<DryingSpec> S> void fields(V& v, S& s) {
    v.list("covers", s.covers, kMostPhases);
    v.number("former_out_day", s.former_out_day, Range{0, 120});
    v.number("room_degC", s.room_degC, Range{2, 40});
    v.number("room_humidity", s.room_humidity, Range{0.2, 0.95});
    v.figure("flux_g_m2h", s.flux_g_m2h, Range{1, 500});
    v.figure("diffusivity_mm2_h", s.diffusivity_mm2_h, Range{0.1, 50});
    v.number("back_share", s.back_share, Range{0, 1});
    v.figure("stretch", s.stretch, Range{1e-4, 0.1});
    v.list("weighings", s.weighings, kMostReadings);
}

template <class V, Either<FiringSegment> S> void fields(V& v, S& s) {
    v.number("rate_K_h", s.rate_K_h, Range{1, 1000});
    v.number("target_degC", s.target_degC, Range{20, 1400});
    v.number("hold_h", s.hold_h, Range{0, 100});
}

template <class V, Either<FinishSpec> S> void fields(V& v, S& s) {
    v.word("kind", s.kind, kFinishWords, Need::optional);
    v.whole("layers", s.layers, Range{1, 6});
    v.number("g_per_m2", s.g_per_m2, Range{0, 3000});
    v.flag("outdoors", s.outdoors);
    v.number("cold_absorption", s.cold_absorption, Range{0, 0.4});
    v.number("boil_absorption", s.boil_absorption, Range{0, 0.4});
}

template <class V, Either<CoolingReading> S> void fields(V& v, S& s) {
    v.number("hour", s.hour, Range{0, 500});
    v.number("degC", s.degC, Range{0, 1400});
}

template <class V, Either<KilnSpec> S> void fields(V& v, S& s) {
    v.word("shape", s.shape, kKilnWords, Need::optional);
    v.number("width_mm", s.width_mm, Range{100, 3000});
    v.number("depth_mm", s.depth_mm, Range{100, 3000});
    v.number("height_mm", s.height_mm, Range{100, 3000});
    v.number("clearance_mm", s.clearance_mm, Range{0, 200});
    v.number("cool_hours", s.cool_hours, Range{4, 200});
    v.list("cooling", s.cooling, kMostReadings);
    v.number("wall_mm", s.wall_mm, Range{40, 400});
    v.number("kWh", s.kWh, Range{0, 2000});
    v.number("room_degC", s.room_degC, Range{0, 40});
    v.number("share", s.share, Range{0.02, 1});
}

template <class V, Either<CostSpec> S> void fields(V& v, S& s) {
    v.text("currency", s.currency, 8, Need::optional);
    v.number("clay_per_kg", s.clay_per_kg, Range{0, 10000});
    v.number("kWh_price", s.kWh_price, Range{0, 1000});
    v.number("oxide_per_kg", s.oxide_per_kg, Range{0, 100000});
    v.number("glaze_per_kg", s.glaze_per_kg, Range{0, 100000});
    v.number("cold_per_kg", s.cold_per_kg, Range{0, 100000});
    v.number("hour_rate", s.hour_rate, Range{0, 100000});
    v.number("minutes_per_leaf", s.minutes_per_leaf, Range{0, 120});
    v.number("minutes_per_feature", s.minutes_per_feature, Range{0, 2000});
    v.number("overhead_share", s.overhead_share, Range{0, 5});
    v.number("price_factor", s.price_factor, Range{0.1, 20});
}

template <class V, Either<FiringSpec> S> void fields(V& v, S& s) {
    v.text("name", s.name, 60, Need::optional);
    v.number("top_degC", s.top_degC, Range{600, 1350});
    v.list("segments", s.segments, kMostSegments);
}

template <class V, Either<CutPin> S> void fields(V& v, S& s) {
    v.text("cut", s.cut, 40, Need::required);
    v.whole("sheet", s.sheet, Range{1, 5000});
    v.number("x_mm", s.x_mm, Range{-6000, 6000});
    v.number("y_mm", s.y_mm, Range{-6000, 6000});
    v.angle("turn_deg", s.turn_deg);
}

template <class V, Either<CuttingSpec> S> void fields(V& v, S& s) {
    v.number("mat_width_mm", s.mat_width_mm, Range{0, 1500});
    v.number("table_length_mm", s.table_length_mm, Range{200, 5000});
    v.number("gap_mm", s.gap_mm, Range{0, 30});
    v.number("edge_mm", s.edge_mm, Range{0, 60});
    v.word("grain", s.grain, kGrainWords, Need::optional);
    v.number("grain_play_deg", s.grain_play_deg, Range{0, 90});
    v.whole("test_bars", s.test_bars, Range{0, 20});
    v.number("seconds", s.seconds, Range{0, 3600});
    v.number("nested_share", s.nested_share, Range{0, 1});
    v.number("nested_cut_mm2", s.nested_cut_mm2, Range{0, 1e10});
    v.list("pins", s.pins, kMostPins);
}

template <class V, Either<ExtraClaySpec> S> void fields(V& v, S& s) {
    v.number("slip_g_per_m2", s.slip_g_per_m2, Range{0, 5000});
    v.number("cutting_density", s.cutting_density, Range{0.1, 1});
}

template <class V, Either<Piece> S> void fields(V& v, S& s) {
    v.text("name", s.name, 200, Need::optional);
    v.seed("seed", s.seed);
    v.object("former", s.former);
    v.object("slab", s.slab);
    v.list("own_leaves", s.own_leaves, kMostOwnLeaves);
    v.list("leaf_kinds", s.leaf_kinds, kMostKinds);
    v.object("rows", s.rows);
    v.list("leaves", s.leaves, kMostLeaves);
    v.list("features", s.features, kMostFeatures);
    v.object("body", s.body);
    v.object("tiles", s.tiles);
    v.object("hanging", s.hanging);
    v.object("drying", s.drying);
    v.list("firing", s.firing, kMostFirings);
    v.object("finish", s.finish);
    v.object("kiln", s.kiln);
    v.object("cost", s.cost);
    v.object("cutting", s.cutting);
    v.object("extra", s.extra);
}

inline constexpr Range kAngleRange{-360, 360};

// A JSON path that grows and shrinks as the tables are walked: "leaves[3].scale".
class FieldPath {
public:
    std::string const& text() const { return text_; }
    std::string with(std::string_view key) const {
        return text_.empty() ? std::string(key) : text_ + '.' + std::string(key);
    }
    std::size_t enter(std::string_view key) {
        std::size_t const was = text_.size();
        if (!text_.empty()) text_ += '.';
        text_ += key;
        return was;
    }
    std::size_t enter(std::size_t index) {
        std::size_t const was = text_.size();
        text_ += '[' + std::to_string(index) + ']';
        return was;
    }
    void leave(std::size_t was) { text_.resize(was); }

private:
    std::string text_;
};

// Numbers in sentences: as short as tells the value, "80", "0.25".
std::string in_words(double value);
// The known word nearest to what was typed, when it is near enough to be meant; else "".
std::string nearest_word(std::string_view typed, std::vector<std::string_view> const& known);
// What a file holds, fit to stand in a sentence: in quotes, on one line, at most some 60 bytes of it.
std::string quoted_word(std::string_view word);
// The same without the quotes, for a JSON path.
std::string plain_word(std::string_view word);
// "round, oval, egg".
std::string listed(std::vector<std::string_view> const& words);

// Ranges alone, all parts; the first one broken.
MaybeProblem check_ranges(Piece const& piece);
MaybeProblem check_ranges(OwnLeaf const& leaf);
// Ranges and references within the piece; all of check_piece() but a look into the drawer.
MaybeProblem check_values(Piece const& piece);
// Brings every value to the nearest limit of its range; angles are wrapped; what is no number goes to the lower limit.
template <class S> void hold_in_range(S& value);

} // namespace leafwright
