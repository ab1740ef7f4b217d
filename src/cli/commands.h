// The commands. Each adds itself to the command line; when it was asked for, run() does the work.
#pragma once

#include "cli/command_line.h"

namespace leafwright {

struct SecondHalf;
struct CuttingAnswer;
struct RangePlan;

void add_plan(CommandLine& line);
void add_lay(CommandLine& line);
void add_picture(CommandLine& line);
void add_sheet(CommandLine& line);
void add_check(CommandLine& line);
void add_tile(CommandLine& line);
void add_trace(CommandLine& line);
void add_outline(CommandLine& line);
void add_demo(CommandLine& line);
void add_cut(CommandLine& line);
void add_nest(CommandLine& line);
void add_range(CommandLine& line);

// The key figures as aligned lines; the last are the warnings.
std::string report_of(Plan const& plan, bool inches);

// Drying, firing, hanging, cost and what to know about them.
std::string report_of(SecondHalf const& second);

// A whole range: pieces, what to get ready, kiln loads, calendar, costs.
std::string report_of(RangePlan const& plan, bool inches);

// Work that two commands do. Each gives an exit status and tells what went wrong.
struct PictureArguments {
    std::string stage = "features";
    std::string look = "piece";
    std::string size = "1280x960";
    std::string from = "quarter";
    std::string map;    // of shown_maps(); empty: plain clay
    double laid = -1;   // at drape: 0 flat on the crown to 1 laid; below 0: as the look says
    bool ticks = false; // with the map's short lines
};
int write_picture(Shell const& shell, std::shared_ptr<Plan const> const& plan, PictureArguments const& arguments,
                  std::filesystem::path const& out);
struct SheetArguments {
    std::string paper = "a4";
    bool inches = false;
};
int write_sheet(Shell const& shell, std::shared_ptr<Plan const> const& plan, SheetArguments const& arguments,
                std::filesystem::path const& folder);

struct CutArguments {
    std::string paper = "a4";
    bool inches = false;
};
int write_cutting(Shell const& shell, CuttingAnswer const& answer, CutArguments const& arguments,
                  std::filesystem::path const& folder);

// A name that is safe in any folder: letters, digits and dashes.
std::string file_name_of(std::string_view words);

// The help page of the program.
std::string help_page();

} // namespace leafwright
