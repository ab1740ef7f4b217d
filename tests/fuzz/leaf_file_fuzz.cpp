// Any bytes as a leaf file: read without harm; what is accepted survives a round trip and gives a shape with its veins.
#include "leaf/clay_leaf.h"
#include "leaf/leaf_measures.h"
#include "piece/leaf_file.h"

#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(unsigned char const* data, std::size_t size) {
    using namespace leafwright;
    Outcome<OwnLeaf> const leaf = own_leaf_from_json({reinterpret_cast<char const*>(data), size});
    if (!leaf) {
        if (leaf.problem().what.empty() || leaf.problem().sentence().find('\n') != std::string::npos) std::abort();
        return 0;
    }
    if (check_leaf_values(*leaf)) std::abort();
    Outcome<OwnLeaf> const back = own_leaf_from_json(own_leaf_to_json(*leaf));
    if (!back.ok() || !(*back == *leaf)) std::abort();
    LeafShape const shape = shape_from(*leaf);
    if (shape.outline_mm.outer.size() < 3) std::abort();
    (void)measures(*leaf);
    (void)fine_spots(shape.outline_mm, 5);
    return 0;
}
