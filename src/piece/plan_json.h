// Parts of plan.json. Internal to the room.
#pragma once

#include "piece/json_text.h"
#include "piece/plan.h"

namespace leafwright {

struct CuttingAnswer;

JsonText plan_head_text(Plan const& plan); // all of the first half but the warnings
JsonText warnings_text(std::vector<Warning> const& warnings);
JsonText cutting_text(CuttingAnswer const& answer, bool with_paths);

} // namespace leafwright
