// The window itself: GLFW, the GL context, ImGui, and what arrives between two frames. Owned in that order.
#pragma once

#include "bench/gesture.h"
#include "bench/settings.h"
#include "bench/shortcuts.h"

struct GLFWwindow;

namespace leafwright {

// A key or a character as it came, before anyone was told of it.
struct KeyEvent {
    int key = 0; // 0: a character
    int scancode = 0;
    int action = 0;
    int mods = 0;
    unsigned character = 0;
};

struct WindowInput {
    std::vector<KeyEvent> key_events;
    std::vector<KeyPress> keys;
    std::vector<PointerRecord> pointer;
    std::vector<std::filesystem::path> dropped;
    double pressed_s = -1; // the last press of the left button, for double clicks
    Vec2 pressed_at{0, 0};
    Vec2 pointer_at{0, 0};
    int frames_wanted = 3; // ImGui needs a few to settle after an event
    bool close_asked = false;
    bool scale_changed = false;
};

class Window {
public:
    // Problem "window": no display, or no OpenGL 3.3; the sentence says what to do.
    static Outcome<std::unique_ptr<Window>> open(int width, int height);
    ~Window();
    Window(Window const&) = delete;
    Window& operator=(Window const&) = delete;

    WindowInput& input() { return input_; }
    // Waits for an event, at most that long; below 0: for as long as it takes; 0: not at all.
    void wait(double seconds);
    void begin_frame();
    void end_frame();

    void set_title(std::string const& title);
    Vec2 size() const;           // window units
    float pixel_ratio() const;   // framebuffer pixels a window unit
    float screen_scale() const;  // text height wanted by the screen, in window units, relative to ordinary density
    void rebuild_font_texture(); // after make_theme()

    static void wake(); // from any thread

private:
    Window() = default;
    void deliver_keys();
    GLFWwindow* window_ = nullptr;
    bool imgui_ = false;
    std::string title_;
    WindowInput input_;
};

} // namespace leafwright
