// Leaves from a photograph: the page that opens when a picture is dropped on the bench.
#include "bench/trace_page.h"

#include "bench/desk.h"

namespace leafwright {

void open_photo(Desk& desk, std::filesystem::path const& path) {
    if (path.empty()) return show_chooser(desk, Chooser::For::photo);
    desk.ui.tracing = std::make_shared<TracePage>();
    desk.ui.tracing->path = path;
}

} // namespace leafwright
