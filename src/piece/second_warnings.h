// What the maker should know about drying, firing, finish and hanging. Internal to the room.
#pragma once

#include "piece/second_half.h"

namespace leafwright {

std::string firing_stage(std::size_t index); // "First firing", "Last firing"

void warn_of_drying(DryingAnswer const& drying, std::vector<Warning>& out);
// A kiln that the maker has not described refuses nothing.
void warn_of_firing(FiringAnswer const& firing, std::size_t index, bool own_kiln, std::vector<Warning>& out);
void warn_of_finish(SecondHalf const& half, std::vector<Warning>& out);
void warn_of_hanging(HangingAnswer const& hanging, std::vector<Warning>& out);

} // namespace leafwright
