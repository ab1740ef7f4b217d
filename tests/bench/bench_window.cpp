// The bench alone, for the window test: bench_window [--demo NAME] [--piece FILE] [--text SCALE] [--inches] [--report
// FILE]
#include "bench/bench.h"

#include <cstdlib>
#include <cstring>

int main(int argc, char** argv) {
    leafwright::BenchRequest request;
    for (int i = 1; i < argc; ++i) {
        bool const has_value = i + 1 < argc;
        if (std::strcmp(argv[i], "--inches") == 0)
            request.inches = true;
        else if (!has_value)
            return 2;
        else if (std::strcmp(argv[i], "--demo") == 0)
            request.demo = argv[++i];
        else if (std::strcmp(argv[i], "--piece") == 0)
            request.piece = argv[++i];
        else if (std::strcmp(argv[i], "--text") == 0)
            request.text_scale = std::atof(argv[++i]);
        else if (std::strcmp(argv[i], "--report") == 0)
            request.report = argv[++i];
        else
            return 2;
    }
    return leafwright::run_bench(request);
}
