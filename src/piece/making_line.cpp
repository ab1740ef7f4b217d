#include "piece/making_line.h"

#include <algorithm>

namespace leafwright {

namespace {

struct StageRow {
    MakingStage stage;
    std::string_view label;
    std::string_view key;
    std::optional<Stage> clay; // its state at the end of the stage
    StageScene scene;
};

// scene: lump, flat slab, slab, leaves, features, former, on wall. The former comes out when the clay is leather-hard.
constexpr std::array<StageRow, 10> kRows = {{
    {MakingStage::knead, "Knead", "knead", {}, {true, false, false, false, false, false, false}},
    {MakingStage::roll, "Roll", "roll", Stage::plastic, {false, true, false, false, false, false, false}},
    {MakingStage::drape, "Drape", "drape", Stage::plastic, {false, false, true, false, false, true, false}},
    {MakingStage::leaves, "Leaves", "leaves", Stage::plastic, {false, false, true, true, false, true, false}},
    {MakingStage::features, "Features", "features", Stage::plastic, {false, false, true, true, true, true, false}},
    {MakingStage::dry, "Dry", "dry", Stage::bone_dry, {false, false, true, true, true, false, false}},
    {MakingStage::first_firing,
     "First firing",
     "first-firing",
     Stage::first_firing,
     {false, false, true, true, true, false, false}},
    {MakingStage::finish, "Finish", "finish", Stage::first_firing, {false, false, true, true, true, false, false}},
    {MakingStage::last_firing,
     "Last firing",
     "last-firing",
     Stage::last_firing,
     {false, false, true, true, true, false, false}},
    {MakingStage::hang, "Hang", "hang", Stage::last_firing, {false, false, true, true, true, false, true}},
}};

StageRow const& row_of(MakingStage stage) { return kRows[static_cast<std::size_t>(stage)]; }

} // namespace

std::string_view label(MakingStage stage) { return row_of(stage).label; }

std::string_view key(MakingStage stage) { return row_of(stage).key; }

std::optional<MakingStage> making_stage(std::string_view key_or_label) {
    for (StageRow const& row : kRows)
        if (row.key == key_or_label || row.label == key_or_label) return row.stage;
    return {};
}

StageAnswer const* state_at(Plan const& plan, MakingStage stage) {
    std::optional<Stage> const clay = row_of(stage).clay;
    if (!clay) return nullptr;
    auto const found =
        std::find_if(plan.stages.begin(), plan.stages.end(), [&](auto const& s) { return s.stage == *clay; });
    return found == plan.stages.end() ? nullptr : &*found;
}

StageScene scene_at(MakingStage stage) { return row_of(stage).scene; }

} // namespace leafwright
