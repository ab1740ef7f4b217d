#include "piece/piece_json.h"

#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace leafwright {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostBytes = 64u << 20;

// Closes a file descriptor, whatever happens.
class Descriptor {
public:
    explicit Descriptor(int number) : number_(number) {}
    ~Descriptor() {
        if (number_ >= 0) ::close(number_);
    }
    Descriptor(Descriptor const&) = delete;
    Descriptor& operator=(Descriptor const&) = delete;
    int get() const { return number_; }
    bool ok() const { return number_ >= 0; }
    // The error of closing counts: some file systems tell only then that the disk is full.
    int close() { return ::close(std::exchange(number_, -1)); }

private:
    int number_;
};

std::string reason(int error) {
    switch (error) {
    case ENOSPC:
    case EDQUOT:
        return "the disk is full";
    case EFBIG:
        return "the file would be larger than this system allows";
    case EACCES:
    case EPERM:
        return "there is no permission";
    case EROFS:
        return "the disk can only be read";
    case ENOENT:
        return "there is no such file or folder";
    case EISDIR:
        return "this is a folder";
    case ENOTDIR:
        return "a part of the path is not a folder";
    case ENAMETOOLONG:
        return "the name is too long";
    default:
        return std::strerror(error);
    }
}

Problem write_fault(int error) {
    std::string hint = "Choose another place";
    if (error == ENOSPC || error == EDQUOT) hint = "Make room, or choose another place";
    if (error == ENOENT) hint = "Make the folder first, or choose another place";
    return {"file.write", "", "cannot be written: " + reason(error), hint};
}

Problem read_fault(int error) {
    return {"file.read", "", "cannot be read: " + reason(error),
            error == ENOENT ? "Check the name" : "Choose another file"};
}

// 0, or the error number.
int write_all(int file, std::string_view bytes) {
    while (!bytes.empty()) {
        ssize_t const written = ::write(file, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return errno;
        if (written == 0) return ENOSPC;
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return 0;
}

// Devices and pipes are written to as they are: renaming over /dev/null would take it away.
MaybeProblem write_in_place(fs::path const& path, std::string_view bytes) {
    Descriptor file(::open(path.c_str(), O_WRONLY | O_CLOEXEC));
    if (!file.ok()) return write_fault(errno);
    if (int const error = write_all(file.get(), bytes)) return write_fault(error);
    if (file.close() != 0) return write_fault(errno);
    return {};
}

// A new file beside the target, of a name that nobody has; nothing with errno set when there can be none.
std::optional<fs::path> open_beside(fs::path const& target, mode_t mode, int& number) {
    for (int attempt = 0; attempt < 100; ++attempt) {
        fs::path const beside = target.parent_path() /
                                (".leafwright-" + std::to_string(::getpid()) + '-' + std::to_string(attempt) + ".part");
        number = ::open(beside.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
        if (number >= 0) return beside;
        if (errno != EEXIST) return {};
    }
    return {};
}

int fill_and_rename(Descriptor& file, fs::path const& beside, fs::path const& target, std::string_view bytes) {
    if (int const error = write_all(file.get(), bytes)) return error;
    if (::fsync(file.get()) != 0) return errno;
    if (file.close() != 0) return errno;
    return std::rename(beside.c_str(), target.c_str()) == 0 ? 0 : errno;
}

} // namespace

Outcome<std::string> read_file(fs::path const& path) {
    Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
    if (!file.ok()) return read_fault(errno);
    std::string text;
    std::string block(1u << 16, '\0');
    for (;;) {
        ssize_t const got = ::read(file.get(), block.data(), block.size());
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return read_fault(errno);
        if (got == 0) return text;
        text.append(block, 0, static_cast<std::size_t>(got));
        if (text.size() > kMostBytes)
            return Problem{"too-large", "", "the file is larger than 64 MB",
                           "No file of this program is so large; choose another file"};
    }
}

MaybeProblem write_file(fs::path const& path, std::string_view bytes) {
    struct stat there {};
    bool const exists = ::stat(path.c_str(), &there) == 0;
    if (exists && S_ISDIR(there.st_mode)) return write_fault(EISDIR);
    if (exists && !S_ISREG(there.st_mode)) return write_in_place(path, bytes);
    if (exists && ::access(path.c_str(), W_OK) != 0) return write_fault(errno); // a rename would not ask

    std::error_code ignored;
    fs::path target = exists ? fs::canonical(path, ignored) : path; // a link stays a link
    if (target.empty()) target = path;
    int number = -1;
    std::optional<fs::path> const beside = open_beside(target, exists ? there.st_mode & 0777 : 0666, number);
    if (!beside) return write_fault(errno);
    Descriptor file(number);
    if (int const error = fill_and_rename(file, *beside, target, bytes)) {
        ::unlink(beside->c_str());
        return write_fault(error);
    }
    return {};
}

Outcome<Piece> load_piece(fs::path const& path) {
    Outcome<std::string> text = read_file(path);
    if (!text) return text.problem();
    return piece_from_json(*text);
}

MaybeProblem save_piece(fs::path const& path, Piece const& piece) { return write_file(path, piece_to_json(piece)); }

} // namespace leafwright
