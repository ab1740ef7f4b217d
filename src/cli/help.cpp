#include "cli/commands.h"
#include "piece/piece.h"

#include <fmt/format.h>

namespace leafwright {

std::string help_page() {
    std::string demos;
    for (std::string const& name : demo_names()) demos += (demos.empty() ? "demo:" : ", demo:") + name;
    return fmt::format(R"(Leafwright plans leaf-clad clay wall pieces: how much clay to knead, how large a slab
to roll, how many leaves to cut, what is left bare, what it weighs and measures.

  leafwright [PIECE]                     open the bench
  leafwright plan PIECE [--json FILE]    the key figures; every figure as JSON
  leafwright lay PIECE --out PIECE2      lay rows of leaves from the edge inward
  leafwright picture PIECE --out PNG     a picture, without a window
  leafwright sheet PIECE --out DIR       the making sheet and leaf templates on paper
  leafwright cut PIECE [--out DIR]       cutting sheets at 1:1, nested on little clay
  leafwright nest FILE [--seconds S]     lay any polygons with as little waste as can be
  leafwright trace PHOTO --out LEAF      leaves at true size from a photograph
  leafwright outline SVG --out LEAF      leaves from a drawing
  leafwright tile TILES                  shrinkage and absorption from test tiles
  leafwright range RANGE [--out DIR]     several pieces: clay, leaves, kiln loads, calendar, costs
  leafwright check FILE...               say what is wrong with files
  leafwright demo [PIECE] [--out DIR]    all of it for a demo piece
  leafwright help COMMAND                the options of one command
  leafwright --version

PIECE is a file (*.piece.json) or one of {}.

Examples
  leafwright demo:hare
  leafwright plan demo:sun --json sun.json
  leafwright lay mine.piece.json --seed 7 --out mine-7.piece.json
  leafwright picture mine.piece.json --from front --size 1600x1200 --out mine.png

Options of the bench: --inches, --text-scale 1 to 2.
Exit status: 0 done; 1 the piece cannot be made as asked; 2 bad usage or unreadable input.
)",
                       demos);
}

} // namespace leafwright
