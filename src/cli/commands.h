// The commands. Each adds itself to the command line; when it was asked for, run() does the work.
#pragma once

#include "cli/shell.h"

#include <functional>
#include <vector>

namespace CLI {
class App;
}

namespace leafwright {

struct SecondHalf;

// Filled in by the parser; at most one is set.
struct Chosen {
    std::function<int(Shell const&)> run;
};

void add_plan(CLI::App& app, Chosen& chosen);
void add_lay(CLI::App& app, Chosen& chosen);
void add_picture(CLI::App& app, Chosen& chosen);
void add_sheet(CLI::App& app, Chosen& chosen);
void add_check(CLI::App& app, Chosen& chosen);
void add_tile(CLI::App& app, Chosen& chosen);
void add_demo(CLI::App& app, Chosen& chosen);

// The key figures as aligned lines; the last are the warnings.
std::string report_of(Plan const& plan, bool inches);

// Drying, firing, hanging, cost and what to know about them.
std::string report_of(SecondHalf const& second);

// Work that two commands do. Each gives an exit status and tells what went wrong.
struct PictureArguments {
    std::string stage = "features";
    std::string look = "piece";
    std::string size = "1280x960";
    std::string from = "quarter";
};
int write_picture(Shell const& shell, std::shared_ptr<Plan const> const& plan, PictureArguments const& arguments,
                  std::filesystem::path const& out);
struct SheetArguments {
    std::string paper = "a4";
    bool inches = false;
};
int write_sheet(Shell const& shell, std::shared_ptr<Plan const> const& plan, SheetArguments const& arguments,
                std::filesystem::path const& folder);

// The help page of the program.
std::string help_page();

} // namespace leafwright
