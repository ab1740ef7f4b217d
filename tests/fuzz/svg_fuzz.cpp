// Any bytes as an SVG drawing: read without harm; what comes out are leaves in order.
#include "leaf/svg_leaves.h"

#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(unsigned char const* data, std::size_t size) {
    using namespace leafwright;
    SvgLeafOptions options;
    options.length_mm = 80;
    Outcome<SvgLeaves> const found = leaves_of_svg({reinterpret_cast<char const*>(data), size}, options);
    if (!found) {
        if (found.problem().what.empty() || found.problem().sentence().find('\n') != std::string::npos) std::abort();
        return 0;
    }
    if (found->leaves.empty()) std::abort();
    for (OwnLeaf const& leaf : found->leaves)
        if (check_own_leaf(leaf) || upright(leaf) != leaf) std::abort();
    return 0;
}
