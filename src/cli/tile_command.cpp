#include "cli/commands.h"
#include "piece/tile_file.h"

#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

struct Arguments {
    std::string tiles;
    double ends_mm = 0;
};

// As many digits as the uncertainty deserves: two of its own.
int decimals_of(double uncertainty) {
    if (!(uncertainty > 0)) return 2;
    return std::clamp(1 - static_cast<int>(std::floor(std::log10(uncertainty))), 0, 4);
}

std::string line(std::string const& name, std::optional<Measured> const& m, double scale, char const* unit) {
    if (!m || *m == Measured{}) return {};
    int const decimals = decimals_of(scale * m->uncertainty);
    return fmt::format("  {:<34}{:.{}f} +- {:.{}f} {}\n", name, scale * m->value, decimals, scale * m->uncertainty,
                       decimals, unit);
}

std::string fired_lines(FiredTiles const& fired) {
    std::string const name =
        fired.top_degC > 0 ? fmt::format("{}, {:.0f} degC", fired.name, fired.top_degC) : fired.name;
    return fmt::format("  Firing: {}\n", name) + line("  shrinkage from dry", fired.firing_shrinkage, 100, "%") +
           line("  shrinkage from plastic", fired.total_shrinkage, 100, "%") +
           line("  volume shrinkage from plastic", fired.volume_shrinkage, 100, "%") +
           line("  loss on ignition", fired.loss_on_ignition, 100, "%");
}

std::string figure_line(char const* name, Figure const& f) {
    return fmt::format("    \"{}\": {{ \"value\": {:.4f}, \"low\": {:.4f}, \"high\": {:.4f}, \"from\": \"{}\" }}", name,
                       f.value, f.low, f.high, f.from == FigureFrom::measured ? "measured" : "default");
}

std::string body_lines(BodySpec const& body) {
    std::string text = "\n  For the piece file, +- 2 standard uncertainties:\n";
    text += fmt::format("    \"clay\": \"{}\",\n", body.clay);
    text += figure_line("water_dry_basis", body.water_dry_basis) + ",\n";
    text += figure_line("drying_shrinkage", body.drying_shrinkage) + ",\n";
    text += figure_line("firing_shrinkage", body.firing_shrinkage) + ",\n";
    text += figure_line("first_firing_share", body.first_firing_share) + ",\n";
    text += figure_line("loss_on_ignition", body.loss_on_ignition) + ",\n";
    return text + figure_line("absorption", body.absorption) + "\n";
}

std::string oversize_lines(BodySpec const& body, double ends_mm) {
    Figure const& dry = body.drying_shrinkage;
    Figure const& fire = body.firing_shrinkage;
    Figure const factor{(1 - dry.value) * (1 - fire.value), (1 - dry.high) * (1 - fire.high),
                        (1 - dry.low) * (1 - fire.low), dry.from};
    Figure const make = plastic_length_mm(ends_mm, factor);
    return fmt::format("\n  To end at {:g} mm make it {:.1f} mm ({:.1f} to {:.1f}).\n", ends_mm, make.value, make.low,
                       make.high);
}

int run(Shell const& shell, Arguments const& arguments) {
    Outcome<TileSet> const set = load_tiles(arguments.tiles);
    if (!set) return shell.complain(arguments.tiles, set.problem());
    Outcome<TileAnswer> const answer = tile_answer(*set);
    if (!answer) return shell.complain(arguments.tiles, answer.problem());
    BodySpec const body = narrowed(*body_of(set->clay), *answer);
    std::string text =
        fmt::format("{}{} tile{}; values +- one standard uncertainty\n\n", set->name.empty() ? "" : set->name + "\n",
                    answer->tiles, answer->tiles == 1 ? "" : "s");
    text += line("Water of plasticity", answer->water_of_plasticity, 100, "% of dry");
    text += line("Drying shrinkage", answer->drying_shrinkage, 100, "%");
    text += line("Drying volume shrinkage", answer->drying_volume_shrinkage, 100, "%");
    for (FiredTiles const& fired : answer->firings) text += fired_lines(fired);
    text += line("Absorption", answer->absorption, 100, "%");
    text += line("Open porosity", answer->open_porosity, 100, "%");
    text += line("Bulk density", answer->bulk_g_cm3, 1, "g/cm3");
    text += line("Apparent density", answer->apparent_g_cm3, 1, "g/cm3");
    text += line("Water of the recycled lump", answer->lump_water, 100, "% of dry");
    text += body_lines(body);
    if (arguments.ends_mm > 0) text += oversize_lines(body, arguments.ends_mm);
    shell.print(text);
    return kDone;
}

} // namespace

void add_tile(CommandLine& line) {
    auto const arguments = std::make_shared<Arguments>();
    line.add("tile", "Shrinkage, loss and absorption from measured test tiles",
             [arguments](Shell const& shell) { return run(shell, *arguments); })
        .required("TILES", arguments->tiles, "A file of test tiles (*.tiles.json)")
        .number("--ends-mm", arguments->ends_mm, "Tell how large to make what is to end at this size", {1, 5000});
}

} // namespace leafwright
