// An off-screen OpenGL 3.3 core context, current on this thread for as long as the object lives.
#pragma once

#include "base/outcome.h"

#include <memory>

namespace leafwright {

class EglContext {
public:
    // Mesa's surfaceless platform first, then the default display. Problem: "picture.no-gl".
    static Outcome<std::unique_ptr<EglContext>> make();
    ~EglContext();
    EglContext(EglContext const&) = delete;
    EglContext& operator=(EglContext const&) = delete;

private:
    EglContext() = default;
    bool open_surfaceless();
    bool open_default();
    bool start(void* display);

    void* display_ = nullptr;
    void* context_ = nullptr;
    void* surface_ = nullptr;
};

} // namespace leafwright
