// The stages of the making line, in the order of work, and what the piece is like at each.
#pragma once

#include "piece/plan.h"

#include <array>

namespace leafwright {

enum class MakingStage { knead, roll, drape, leaves, features, dry, first_firing, finish, last_firing, hang };

inline constexpr std::array<MakingStage, 10> kMakingLine = {
    MakingStage::knead, MakingStage::roll,         MakingStage::drape,  MakingStage::leaves,      MakingStage::features,
    MakingStage::dry,   MakingStage::first_firing, MakingStage::finish, MakingStage::last_firing, MakingStage::hang};

std::string_view label(MakingStage stage); // "First firing"
std::string_view key(MakingStage stage);   // "first-firing", for the command line
std::optional<MakingStage> making_stage(std::string_view key_or_label);

// The clay's state then: size and mass. Null for knead, which has no piece yet, only clay.
StageAnswer const* state_at(Plan const& plan, MakingStage stage);

// What there is to see then.
struct StageScene {
    bool lump = false; // a lump of clay
    bool flat_slab = false;
    bool slab = false; // laid over the former
    bool leaves = false;
    bool features = false;
    bool former = false; // the former is still inside
    bool on_wall = false;
};
StageScene scene_at(MakingStage stage);

} // namespace leafwright
