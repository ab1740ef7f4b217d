// Nesting jobs in the JSON form of the open benchmark instances for strip packing.
//
// { "name", "strip_height", "items": [ { "id", "demand", "allowed_orientations": [degrees],
//   "shape": { "type": "simple_polygon", "data": [[x, y], ..] } } ] }
// Also read: "strip_width"; "shape" of type "polygon" with "data": { "outer": [..], "inner": [[..], ..] }, or
// "multi_polygon" with one part; "shape" as the bare list of points; "holes" beside "data"; a "rectangle" by "x_min",
// "y_min", "width", "height"; "demand" as "quantity"; "allowed_orientations" missing or null: any turn; an empty list:
// as drawn. "allow_flip": either hand. Keys that are not known are passed over.
#pragma once

#include "cutting/nest.h"

#include <string_view>

namespace leafwright {

struct NestFile {
    std::string name;
    NestJob job;
};

// Problems: "syntax" with the place, "key" and "range" with the JSON path. At most 64 MB. The job itself is not
// checked here: nest() does that.
Outcome<NestFile> nest_file_from_json(std::string_view text);

// The layout: length, density, and each placement as { "shape", "copy", "sheet", "turn_deg", "mirrored", "at_mm" }.
std::string nest_to_json(NestFile const& file, NestResult const& result);

// A picture of the layout as SVG, one sheet under the other, in mm.
std::string nest_to_svg(NestJob const& job, NestResult const& result);

} // namespace leafwright
