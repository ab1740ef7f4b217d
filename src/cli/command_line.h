// The command line as the commands see it; the parser itself stays in one file, for its header is slow to compile.
#pragma once

#include "cli/shell.h"

#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace leafwright {

struct NumberRange {
    double least = -std::numeric_limits<double>::infinity();
    double most = std::numeric_limits<double>::infinity();
};

// The arguments of one command. Names begin with dashes, or stand in capitals for what is told by its place.
// `into` keeps its value when the argument is not given, and must live until the command has run.
class CommandOptions {
public:
    explicit CommandOptions(CLI::App& command) : command_(command) {}
    CommandOptions& required(char const* name, std::string& into, char const* words);
    CommandOptions& required(char const* name, std::vector<std::string>& into, char const* words);
    CommandOptions& text(char const* name, std::string& into, char const* words);
    CommandOptions& number(char const* name, double& into, char const* words, NumberRange range = {});
    CommandOptions& whole(char const* name, std::optional<std::uint64_t>& into, char const* words);
    CommandOptions& flag(char const* name, bool& into, char const* words);

private:
    CLI::App& command_;
};

class CommandLine {
public:
    // Filled in by the parser when the command was asked for.
    using Run = std::function<int(Shell const&)>;
    CommandLine(CLI::App& app, Run& chosen) : app_(app), chosen_(chosen) {}
    // A command: `run` does its work and gives the exit status.
    CommandOptions add(char const* name, char const* words, Run run);

private:
    CLI::App& app_;
    Run& chosen_;
};

} // namespace leafwright
