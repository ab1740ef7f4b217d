#include "bench/bench.h"
#include "cli/commands.h"
#include "piece/fields.h"

#include <CLI/CLI.hpp>
#include <cstdlib>

using namespace leafwright;

namespace {

struct BenchArguments {
    std::string piece;
    bool inches = false;
    double text_scale = 0;
    std::string report;
};

bool has_screen() {
    auto const is_set = [](char const* name) {
        char const* const value = std::getenv(name);
        return value != nullptr && *value != '\0';
    };
    return is_set("DISPLAY") || is_set("WAYLAND_DISPLAY");
}

int open_bench(Shell const& shell, BenchArguments const& arguments) {
    BenchRequest request;
    if (!arguments.piece.empty()) {
        Outcome<Piece> const piece = open_piece(arguments.piece); // told here, before a window opens
        if (!piece) return shell.complain(arguments.piece, piece.problem());
        if (arguments.piece.starts_with("demo:"))
            request.demo = arguments.piece.substr(5);
        else
            request.piece = arguments.piece;
    }
    if (!has_screen())
        return shell.complain(
            "", {"no-screen", "", "there is no screen to open the bench on: neither DISPLAY nor WAYLAND_DISPLAY is set",
                 "Start it from a desktop, or use a command without a window, such as 'leafwright plan PIECE'"});
    request.inches = arguments.inches;
    request.text_scale = arguments.text_scale;
    if (!arguments.report.empty()) request.report = arguments.report;
    return run_bench(request);
}

void add_bench(CLI::App& app, BenchArguments& arguments) {
    app.add_option("PIECE", arguments.piece, "A piece file, or demo:NAME");
    app.add_flag("--inches", arguments.inches, "Inches and pounds");
    app.add_option("--text-scale", arguments.text_scale, "Size of the text, 1 to 2")->check(CLI::Range(1.0, 2.0));
    app.add_option("--report", arguments.report, "For tests: write what is shown to this file after each change");
}

CLI::App const* command_named(CLI::App const& app, std::string const& name) {
    for (CLI::App const* command : app.get_subcommands([](CLI::App const*) { return true; }))
        if (command->get_name() == name) return command;
    return nullptr;
}

void add_help(CLI::App& app, std::string& topic, CommandLine::Run& chosen) {
    CLI::App* const command = app.add_subcommand("help", "The options of one command");
    command->add_option("COMMAND", topic, "Which one");
    command->callback([&app, &topic, &chosen] {
        chosen = [&app, &topic](Shell const& shell) {
            CLI::App const* const found = command_named(app, topic);
            if (topic.empty() || found) {
                shell.print(found ? found->help("leafwright") : help_page());
                return int{kDone};
            }
            return shell.complain(
                "", {"usage", "help", "there is no command " + quoted_word(topic), "See 'leafwright help'"});
        };
    });
}

// Our sentence for a fault of usage: "leafwright: plan: --out is required. See 'leafwright help plan'."
int complain_of_usage(Shell const& shell, CLI::App const& app, CLI::ParseError const& fault) {
    std::string where;
    for (CLI::App const* command : app.get_subcommands()) where = command->get_name();
    std::string what = plain_word(fault.what());
    while (what.ends_with('.') || what.ends_with(' ')) what.pop_back();
    return shell.complain(
        "", {"usage", where, what, where.empty() ? "See 'leafwright help'" : "See 'leafwright help " + where + "'"});
}

} // namespace

int main(int argc, char** argv) {
    Shell const shell;
    CommandLine::Run chosen;
    BenchArguments bench;
    std::string help_topic;
    bool wants_help = false;
    CLI::App app{"", "leafwright"};
    app.set_help_flag();
    app.add_flag("-h,--help", wants_help, "This page");
    app.set_version_flag("--version", "leafwright " LEAFWRIGHT_VERSION);
    app.require_subcommand(0, 1);
    add_bench(app, bench);
    CommandLine line(app, chosen);
    for (auto* const add : {add_plan, add_lay, add_picture, add_sheet, add_check, add_tile, add_trace, add_outline,
                            add_demo, add_cut, add_nest, add_range})
        add(line);
    add_help(app, help_topic, chosen);
    for (CLI::App* const command : app.get_subcommands({})) command->set_help_flag("-h,--help", "This page");
    try {
        app.parse(argc, argv);
    } catch (CLI::CallForHelp const&) {
        for (CLI::App const* command : app.get_subcommands()) shell.print(command->help("leafwright"));
        return shell.finish(kDone);
    } catch (CLI::CallForVersion const&) {
        shell.print("leafwright " LEAFWRIGHT_VERSION "\n");
        return shell.finish(kDone);
    } catch (CLI::ParseError const& fault) {
        return complain_of_usage(shell, app, fault);
    }
    if (wants_help) {
        shell.print(help_page());
        return shell.finish(kDone);
    }
    return shell.finish(chosen ? chosen(shell) : open_bench(shell, bench));
}
