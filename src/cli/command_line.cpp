#include "cli/command_line.h"

#include <CLI/CLI.hpp>

namespace leafwright {

CommandOptions& CommandOptions::required(char const* name, std::string& into, char const* words) {
    command_.add_option(name, into, words)->required();
    return *this;
}

CommandOptions& CommandOptions::required(char const* name, std::vector<std::string>& into, char const* words) {
    command_.add_option(name, into, words)->required();
    return *this;
}

CommandOptions& CommandOptions::text(char const* name, std::string& into, char const* words) {
    command_.add_option(name, into, words);
    return *this;
}

CommandOptions& CommandOptions::number(char const* name, double& into, char const* words, NumberRange range) {
    CLI::Option* const option = command_.add_option(name, into, words);
    if (range.least > -std::numeric_limits<double>::infinity()) option->check(CLI::Range(range.least, range.most));
    return *this;
}

CommandOptions& CommandOptions::whole(char const* name, std::optional<std::uint64_t>& into, char const* words) {
    command_.add_option(name, into, words);
    return *this;
}

CommandOptions& CommandOptions::flag(char const* name, bool& into, char const* words) {
    command_.add_flag(name, into, words);
    return *this;
}

CommandOptions CommandLine::add(char const* name, char const* words, Run run) {
    CLI::App* const command = app_.add_subcommand(name, words);
    command->callback([this_run = std::move(run), &chosen = chosen_] { chosen = this_run; });
    return CommandOptions(*command);
}

} // namespace leafwright
