#include "view/egl_context.h"

#include <epoxy/egl.h>

namespace leafwright {
namespace {

EGLConfig config_of(EGLDisplay display, EGLint surface_kind) {
    EGLint const wanted[] = {EGL_RENDERABLE_TYPE, EGL_OPENGL_BIT, EGL_SURFACE_TYPE, surface_kind, EGL_NONE};
    EGLConfig config = nullptr;
    EGLint count = 0;
    if (!eglChooseConfig(display, wanted, &config, 1, &count) || count < 1) return nullptr;
    return config;
}

EGLContext core_context(EGLDisplay display, EGLConfig config) {
    EGLint const wanted[] = {
        EGL_CONTEXT_MAJOR_VERSION,           3,       EGL_CONTEXT_MINOR_VERSION, 3, EGL_CONTEXT_OPENGL_PROFILE_MASK,
        EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT, EGL_NONE};
    return eglCreateContext(display, config, EGL_NO_CONTEXT, wanted);
}

Problem no_driver() {
    return {"picture.no-gl", "", "no OpenGL 3.3 driver was found for drawing without a window",
            "install a driver, such as Mesa's software renderer: apt-get install libgl1-mesa-dri libegl-mesa0",
            ProblemKind::input};
}

} // namespace

Outcome<std::unique_ptr<EglContext>> EglContext::make() {
    std::unique_ptr<EglContext> context(new EglContext);
    if (context->open_surfaceless() || context->open_default()) return context;
    return no_driver();
}

bool EglContext::open_surfaceless() {
    if (!epoxy_has_egl_extension(EGL_NO_DISPLAY, "EGL_MESA_platform_surfaceless")) return false;
    return start(eglGetPlatformDisplayEXT(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr));
}

bool EglContext::open_default() { return start(eglGetDisplay(EGL_DEFAULT_DISPLAY)); }

bool EglContext::start(void* display) {
    if (display == EGL_NO_DISPLAY || !eglInitialize(display, nullptr, nullptr)) return false;
    display_ = display;
    EGLConfig const config = config_of(display, EGL_PBUFFER_BIT);
    if (!config || !eglBindAPI(EGL_OPENGL_API)) return false;
    context_ = core_context(display, config);
    if (context_ == EGL_NO_CONTEXT) return false;
    if (eglMakeCurrent(display, EGL_NO_SURFACE, EGL_NO_SURFACE, context_)) return true;
    EGLint const size[] = {EGL_WIDTH, 16, EGL_HEIGHT, 16, EGL_NONE};
    surface_ = eglCreatePbufferSurface(display, config, size);
    return surface_ != EGL_NO_SURFACE && eglMakeCurrent(display, surface_, surface_, context_);
}

// The display itself stays open: others in this program may draw on it, and it is one for the whole process.
EglContext::~EglContext() {
    if (!display_) return;
    eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
    if (surface_) eglDestroySurface(display_, surface_);
    if (context_) eglDestroyContext(display_, context_);
    eglReleaseThread();
}

} // namespace leafwright
