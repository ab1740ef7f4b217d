#include "bench/autosave.h"

#include "piece/piece_json.h"

#include <fmt/format.h>

#include <signal.h>

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <ctime>
#include <fstream>
#include <optional>

namespace leafwright {
namespace {

constexpr std::string_view kHead = "autosave-";
constexpr std::string_view kTail = ".piece.json";

std::filesystem::path copy_path(std::filesystem::path const& folder, long process) {
    return folder / fmt::format("{}{}{}", kHead, process, kTail);
}

std::filesystem::path origin_path(std::filesystem::path const& copy) {
    std::string name = copy.filename().string();
    name.resize(name.size() - kTail.size());
    return copy.parent_path() / (name + ".origin");
}

std::optional<long> process_of(std::filesystem::path const& file) {
    std::string const name = file.filename().string();
    if (!name.starts_with(kHead) || !name.ends_with(kTail)) return std::nullopt;
    long process = 0;
    char const* const end = name.data() + name.size() - kTail.size();
    auto const read = std::from_chars(name.data() + kHead.size(), end, process);
    if (read.ec != std::errc() || read.ptr != end || process <= 0) return std::nullopt;
    return process;
}

// One that has ended but was not yet waited for ("Z" in its status line) is gone too.
bool is_running(long process) {
    if (kill(static_cast<pid_t>(process), 0) != 0 && errno != EPERM) return false;
    std::ifstream status(fmt::format("/proc/{}/stat", process));
    std::string line;
    if (!std::getline(status, line)) return true;
    std::size_t const after_name = line.rfind(')');
    return after_name == std::string::npos || line.compare(after_name, 3, ") Z") != 0;
}

std::string time_words(std::filesystem::path const& file) {
    std::error_code error;
    auto const written = std::filesystem::last_write_time(file, error);
    if (error) return {};
    auto const system = std::chrono::file_clock::to_sys(written);
    std::time_t const seconds =
        std::chrono::system_clock::to_time_t(std::chrono::time_point_cast<std::chrono::system_clock::duration>(system));
    std::tm parts{};
    localtime_r(&seconds, &parts);
    char words[64];
    return std::string(words, std::strftime(words, sizeof words, "%H:%M, %e %B", &parts));
}

KeptCopy kept_copy(std::filesystem::path const& file) {
    KeptCopy copy{file, {}, {}, time_words(file)};
    if (auto const origin = read_file(origin_path(file))) copy.origin = *origin;
    if (auto const piece = load_piece(file)) copy.name = piece->name;
    return copy;
}

} // namespace

MaybeProblem keep_copy(std::filesystem::path const& folder, long process, Piece const& piece,
                       std::filesystem::path const& origin) {
    if (folder.empty()) return std::nullopt;
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    std::filesystem::path const copy = copy_path(folder, process);
    if (auto problem = save_piece(copy, piece)) return problem;
    return write_file(origin_path(copy), origin.string());
}

void drop_copy(std::filesystem::path const& folder, long process) {
    if (!folder.empty()) drop_copy(KeptCopy{copy_path(folder, process), {}, {}, {}});
}

void drop_copy(KeptCopy const& copy) {
    std::error_code error;
    std::filesystem::remove(copy.file, error);
    std::filesystem::remove(origin_path(copy.file), error);
}

std::vector<KeptCopy> copies_left_behind(std::filesystem::path const& folder) {
    std::error_code error;
    std::vector<std::filesystem::path> files;
    for (std::filesystem::directory_iterator entry(folder, error), end; !error && entry != end;
         entry.increment(error)) {
        auto const process = process_of(entry->path());
        if (process && !is_running(*process)) files.push_back(entry->path());
    }
    auto const time = [](auto const& file) {
        std::error_code ignored;
        return std::filesystem::last_write_time(file, ignored);
    };
    std::sort(files.begin(), files.end(), [&](auto const& a, auto const& b) { return time(a) > time(b); });
    std::vector<KeptCopy> copies;
    copies.reserve(files.size());
    for (auto const& file : files) copies.push_back(kept_copy(file));
    return copies;
}

} // namespace leafwright
