#include <CLI/CLI.hpp>

int main(int argc, char** argv) {
    CLI::App app{"Plans leaf-clad clay wall pieces.", "leafwright"};
    app.set_version_flag("--version", "leafwright " LEAFWRIGHT_VERSION);
    CLI11_PARSE(app, argc, argv);
    return 0;
}
