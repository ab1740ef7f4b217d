#include "near.h"
#include "sample_piece.h"

#include <csignal>
#include <fstream>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

using namespace leafwright;
namespace fs = std::filesystem;

namespace {

// A folder of its own that goes away with everything in it.
struct Folder {
    fs::path path;
    Folder() {
        std::string name = (fs::temp_directory_path() / "leafwright-test-XXXXXX").string();
        REQUIRE(::mkdtemp(name.data()) != nullptr);
        path = name;
    }
    ~Folder() {
        std::error_code ignored;
        fs::permissions(path, fs::perms::owner_all, ignored);
        fs::remove_all(path, ignored);
    }
    std::size_t files() const {
        return static_cast<std::size_t>(std::distance(fs::directory_iterator(path), fs::directory_iterator()));
    }
};

std::string content(fs::path const& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

} // namespace

TEST_CASE("a piece is saved, saved over, and loaded again") {
    Folder const folder;
    fs::path const path = folder.path / "a.piece.json";
    Piece piece = sample::full_piece(1);
    CHECK_FALSE(save_piece(path, piece).has_value());
    piece.name = "again";
    CHECK_FALSE(save_piece(path, piece).has_value());
    CHECK(*load_piece(path) == piece);
    CHECK(folder.files() == 1);
}

TEST_CASE("a full disk leaves the old file as it was and nothing beside it") {
    // The size limit of the process stands for the disk: the write is cut short, then refused.
    Folder const folder;
    fs::path const path = folder.path / "a.txt";
    REQUIRE_FALSE(write_file(path, "old").has_value());
    auto const old_action = std::signal(SIGXFSZ, SIG_IGN);
    rlimit before{};
    REQUIRE(getrlimit(RLIMIT_FSIZE, &before) == 0);
    rlimit small = before;
    small.rlim_cur = 1000;
    REQUIRE(setrlimit(RLIMIT_FSIZE, &small) == 0);
    MaybeProblem const problem = write_file(path, std::string(5000, 'x'));
    setrlimit(RLIMIT_FSIZE, &before);
    std::signal(SIGXFSZ, old_action);
    REQUIRE(problem.has_value());
    CHECK(problem->code == "file.write");
    CHECK(content(path) == "old");
    CHECK(folder.files() == 1);
}

TEST_CASE("a device that is full is told as a full disk and stays a device") {
    if (!fs::is_character_file("/dev/full")) return;
    Folder const folder;
    fs::path const link = folder.path / "full.json";
    fs::create_symlink("/dev/full", link);
    for (fs::path const& path : {fs::path("/dev/full"), link}) {
        MaybeProblem const problem = write_file(path, "something");
        REQUIRE(problem.has_value());
        CHECK(problem->code == "file.write");
        CHECK(problem->what == "cannot be written: the disk is full");
    }
    CHECK(fs::is_character_file("/dev/full"));
    CHECK(fs::is_symlink(link));
    CHECK_FALSE(write_file("/dev/null", "something").has_value());
    CHECK(fs::is_character_file("/dev/null"));
}

TEST_CASE("a folder, a missing folder and a locked folder are told apart") {
    Folder const folder;
    CHECK(write_file(folder.path, "x")->what == "cannot be written: this is a folder");
    CHECK(write_file(folder.path / "none" / "a.json", "x")->what ==
          "cannot be written: there is no such file or folder");
    CHECK(read_file(folder.path / "none.json").problem().what == "cannot be read: there is no such file or folder");
    CHECK(read_file(folder.path).problem().what == "cannot be read: this is a folder");
    if (::geteuid() != 0) { // root may write anywhere
        fs::permissions(folder.path, fs::perms::owner_read | fs::perms::owner_exec);
        CHECK(write_file(folder.path / "a.json", "x")->what == "cannot be written: there is no permission");
    }
}

TEST_CASE("a link stays a link and the permissions of a file stay") {
    Folder const folder;
    fs::path const real = folder.path / "real.json";
    fs::path const link = folder.path / "link.json";
    REQUIRE_FALSE(write_file(real, "one").has_value());
    fs::permissions(real, fs::perms::owner_read | fs::perms::owner_write);
    fs::create_symlink(real, link);
    CHECK_FALSE(write_file(link, "two").has_value());
    CHECK(fs::is_symlink(link));
    CHECK(content(real) == "two");
    CHECK(fs::status(real).permissions() == (fs::perms::owner_read | fs::perms::owner_write));
}

TEST_CASE("bytes are kept as they are") {
    Folder const folder;
    fs::path const path = folder.path / "bytes";
    std::string bytes;
    for (int i = 0; i < 200000; ++i) bytes += static_cast<char>(i * 7);
    CHECK_FALSE(write_file(path, bytes).has_value());
    CHECK(*read_file(path) == bytes);
    CHECK_FALSE(write_file(path, "").has_value());
    CHECK(read_file(path)->empty());
}
