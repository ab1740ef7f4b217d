#include "near.h"
#include "piece/making_line.h"

using namespace leafwright;

TEST_CASE("every stage is found by its key and by its label") {
    for (std::size_t i = 0; i < kMakingLine.size(); ++i) {
        MakingStage const stage = kMakingLine[i];
        CHECK(static_cast<std::size_t>(stage) == i);
        CHECK(making_stage(key(stage)) == stage);
        CHECK(making_stage(label(stage)) == stage);
        CHECK(key(stage).find(' ') == std::string_view::npos);
    }
    CHECK_FALSE(making_stage("glazing").has_value());
    CHECK(label(MakingStage::first_firing) == "First firing");
    CHECK(key(MakingStage::first_firing) == "first-firing");
}

TEST_CASE("the piece grows along the line and the former is out before drying") {
    CHECK(scene_at(MakingStage::knead).lump);
    CHECK_FALSE(scene_at(MakingStage::knead).slab);
    CHECK(scene_at(MakingStage::roll).flat_slab);
    CHECK(scene_at(MakingStage::drape).former);
    CHECK_FALSE(scene_at(MakingStage::drape).leaves);
    CHECK(scene_at(MakingStage::leaves).leaves);
    CHECK_FALSE(scene_at(MakingStage::leaves).features);
    bool dry_or_later = false;
    for (MakingStage const stage : kMakingLine) {
        dry_or_later = dry_or_later || stage == MakingStage::dry;
        if (dry_or_later) CHECK_FALSE(scene_at(stage).former);
        CHECK(scene_at(stage).on_wall == (stage == MakingStage::hang));
    }
}

TEST_CASE("each stage weighs as its clay does") {
    Plan plan;
    for (Stage stage :
         {Stage::plastic, Stage::leather_hard, Stage::bone_dry, Stage::first_firing, Stage::last_firing}) {
        StageAnswer answer;
        answer.stage = stage;
        plan.stages.push_back(answer);
    }
    CHECK(state_at(plan, MakingStage::knead) == nullptr);
    CHECK(state_at(plan, MakingStage::roll)->stage == Stage::plastic);
    CHECK(state_at(plan, MakingStage::features)->stage == Stage::plastic);
    CHECK(state_at(plan, MakingStage::dry)->stage == Stage::bone_dry);
    CHECK(state_at(plan, MakingStage::finish)->stage == Stage::first_firing);
    CHECK(state_at(plan, MakingStage::hang)->stage == Stage::last_firing);
}
