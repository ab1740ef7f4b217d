#include "bench/window.h"

#include <epoxy/gl.h>

#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>

#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr int kFramesAfterEvent = 3;
constexpr int kFramesAfterMove = 2;
constexpr double kDoubleClick_s = 0.35;
constexpr double kDoubleClickReach = 8; // window units

WindowInput& input_of(GLFWwindow* window) {
    WindowInput& input = *static_cast<WindowInput*>(glfwGetWindowUserPointer(window));
    input.frames_wanted = kFramesAfterEvent;
    return input;
}

// Letters and signs by what is printed on the key; others as GLFW numbers them.
int key_code(int key, int scancode) {
    char const* const name = glfwGetKeyName(key, scancode);
    bool const keypad = key >= GLFW_KEY_KP_0 && key <= GLFW_KEY_KP_EQUAL;
    if (!name || name[0] == '\0' || name[1] != '\0' || keypad) return key;
    return name[0] >= 'a' && name[0] <= 'z' ? name[0] - 'a' + 'A' : name[0];
}

void on_key(GLFWwindow* window, int key, int scancode, int action, int mods) {
    input_of(window).key_events.push_back({key, scancode, action, mods, 0});
}

void on_character(GLFWwindow* window, unsigned character) {
    input_of(window).key_events.push_back({0, 0, 0, 0, character});
}

KeyPress press_of(KeyEvent const& event) {
    KeyPress press{key_code(event.key, event.scancode), (event.mods & (GLFW_MOD_CONTROL | GLFW_MOD_SUPER)) != 0,
                   (event.mods & GLFW_MOD_SHIFT) != 0, event.action == GLFW_REPEAT};
    // The key beside right Shift carries "?" with Shift on many boards.
    if (press.key == '/' && press.shift) press.key = '?';
    return press;
}

void on_drop(GLFWwindow* window, int count, char const** paths) {
    WindowInput& input = input_of(window);
    for (int i = 0; i < count; ++i) input.dropped.emplace_back(paths[i]);
}

// Where the last event said the pointer was; glfwGetCursorPos() tells where it is by now, which on a slow frame is
// elsewhere.
PointerRecord record_now(GLFWwindow* window, PointerEvent::What what) {
    PointerRecord record;
    record.what = what;
    record.at = static_cast<WindowInput*>(glfwGetWindowUserPointer(window))->pointer_at;
    auto const down = [&](int key) { return glfwGetKey(window, key) == GLFW_PRESS; };
    record.shift = down(GLFW_KEY_LEFT_SHIFT) || down(GLFW_KEY_RIGHT_SHIFT);
    record.ctrl = down(GLFW_KEY_LEFT_CONTROL) || down(GLFW_KEY_RIGHT_CONTROL);
    return record;
}

void on_button(GLFWwindow* window, int button, int action, int) {
    WindowInput& input = input_of(window);
    if (button > GLFW_MOUSE_BUTTON_MIDDLE) return;
    using What = PointerEvent::What;
    PointerRecord record = record_now(window, action == GLFW_PRESS ? What::press : What::release);
    record.button = button == GLFW_MOUSE_BUTTON_LEFT    ? PointerButton::left
                    : button == GLFW_MOUSE_BUTTON_RIGHT ? PointerButton::right
                                                        : PointerButton::middle;
    bool const left_press = record.what == What::press && record.button == PointerButton::left;
    if (left_press) {
        bool const near = glm::distance(record.at, input.pressed_at) < kDoubleClickReach;
        if (near && glfwGetTime() - input.pressed_s < kDoubleClick_s) record.what = What::double_click;
        input.pressed_s = record.what == What::double_click ? -1 : glfwGetTime();
        input.pressed_at = record.at;
    }
    add_record(input.pointer, record);
}

void on_move(GLFWwindow* window, double x, double y) {
    WindowInput& input = *static_cast<WindowInput*>(glfwGetWindowUserPointer(window));
    input.frames_wanted = std::max(input.frames_wanted, kFramesAfterMove);
    input.pointer_at = {x, y};
    add_record(input.pointer, record_now(window, PointerEvent::What::move));
}

void on_wheel(GLFWwindow* window, double, double notches) {
    PointerRecord record = record_now(window, PointerEvent::What::wheel);
    record.wheel = notches;
    add_record(input_of(window).pointer, record);
}

void set_callbacks(GLFWwindow* window) {
    glfwSetDropCallback(window, on_drop);
    glfwSetMouseButtonCallback(window, on_button);
    glfwSetCursorPosCallback(window, on_move);
    glfwSetScrollCallback(window, on_wheel);
    glfwSetCursorEnterCallback(window, [](GLFWwindow* w, int) {
        Vec2& at = input_of(w).pointer_at;
        glfwGetCursorPos(w, &at.x, &at.y);
    });
    glfwSetWindowFocusCallback(window, [](GLFWwindow* w, int) { input_of(w); });
    glfwSetWindowRefreshCallback(window, [](GLFWwindow* w) { input_of(w); });
    glfwSetFramebufferSizeCallback(window, [](GLFWwindow* w, int, int) { input_of(w); });
    glfwSetWindowContentScaleCallback(window, [](GLFWwindow* w, float, float) { input_of(w).scale_changed = true; });
    glfwSetWindowCloseCallback(window, [](GLFWwindow* w) {
        input_of(w).close_asked = true;
        glfwSetWindowShouldClose(w, GLFW_FALSE); // the bench decides
    });
}

GLFWwindow* make_window(int width, int height) {
    glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
    glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
    glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
    glfwWindowHint(GLFW_DEPTH_BITS, 0);
    glfwWindowHint(GLFW_STENCIL_BITS, 0);
    glfwWindowHintString(GLFW_X11_CLASS_NAME, "leafwright");
    return glfwCreateWindow(width, height, "Leafwright", nullptr, nullptr);
}

Problem no_window(std::string hint) {
    return {"window", "", "no window can be opened", std::move(hint), ProblemKind::input};
}

} // namespace

Outcome<std::unique_ptr<Window>> Window::open(int width, int height) {
    std::unique_ptr<Window> made(new Window);
    if (!glfwInit())
        return no_window("Is there a display? The commands plan, picture and check work without one; see --help");
    GLFWmonitor* const monitor = glfwGetPrimaryMonitor();
    if (monitor) {
        int x = 0, y = 0, wide = width, tall = height;
        glfwGetMonitorWorkarea(monitor, &x, &y, &wide, &tall);
        width = std::min(width, std::max(640, wide));
        height = std::min(height, std::max(480, tall));
    }
    made->window_ = make_window(width, height);
    if (!made->window_)
        return no_window("It needs OpenGL 3.3; the package libgl1-mesa-dri draws it without a graphics card");
    glfwSetWindowSizeLimits(made->window_, 640, 480, GLFW_DONT_CARE, GLFW_DONT_CARE);
    glfwMakeContextCurrent(made->window_);
    glfwSwapInterval(1);
    glfwSetWindowUserPointer(made->window_, &made->input_);
    set_callbacks(made->window_); // ImGui keeps them and calls them after its own
    ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.LogFilename = nullptr;
    io.ConfigInputTextCursorBlink = false; // nothing moves when nothing happens
    io.ConfigWindowsMoveFromTitleBarOnly = true;
    ImGui_ImplGlfw_InitForOpenGL(made->window_, true);
    glfwSetKeyCallback(made->window_, on_key); // these two are handed on by deliver_keys()
    glfwSetCharCallback(made->window_, on_character);
    ImGui_ImplOpenGL3_Init("#version 330 core");
    made->imgui_ = true;
    return made;
}

Window::~Window() {
    if (imgui_) {
        ImGui_ImplOpenGL3_Shutdown();
        ImGui_ImplGlfw_Shutdown();
        ImGui::DestroyContext();
    }
    if (window_) glfwDestroyWindow(window_);
    glfwTerminate();
}

void Window::wait(double seconds) {
    if (seconds < 0)
        glfwWaitEvents();
    else if (seconds > 0)
        glfwWaitEventsTimeout(seconds);
    else
        glfwPollEvents();
}

// ImGui of this version only knows how keys are at the start of a frame: a key that goes down and up within a slow
// frame would be lost. So the second change of one key waits for the next frame, and all that came after it too.
void Window::deliver_keys() {
    std::vector<int> changed;
    std::size_t told = 0;
    for (KeyEvent const& event : input_.key_events) {
        if (event.character) {
            ImGui_ImplGlfw_CharCallback(window_, event.character);
        } else {
            if (std::find(changed.begin(), changed.end(), event.key) != changed.end()) break;
            changed.push_back(event.key);
            ImGui_ImplGlfw_KeyCallback(window_, event.key, event.scancode, event.action, event.mods);
            if (event.action != GLFW_RELEASE) input_.keys.push_back(press_of(event));
        }
        ++told;
    }
    input_.key_events.erase(input_.key_events.begin(), input_.key_events.begin() + static_cast<std::ptrdiff_t>(told));
    if (!input_.key_events.empty()) input_.frames_wanted = kFramesAfterEvent;
}

void Window::begin_frame() {
    deliver_keys();
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplGlfw_NewFrame();
    ImGui::NewFrame();
}

void Window::end_frame() {
    ImGui::Render();
    int width = 0, height = 0;
    glfwGetFramebufferSize(window_, &width, &height);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    glViewport(0, 0, width, height);
    glClearColor(0.957F, 0.933F, 0.894F, 1);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    glfwSwapBuffers(window_);
}

void Window::set_title(std::string const& title) {
    if (title == title_) return;
    title_ = title;
    glfwSetWindowTitle(window_, title.c_str());
}

Vec2 Window::size() const {
    int width = 1, height = 1;
    glfwGetWindowSize(window_, &width, &height);
    return {width, height};
}

float Window::pixel_ratio() const {
    int width = 1, height = 1;
    glfwGetFramebufferSize(window_, &width, &height);
    double const ratio = width / std::max(1.0, size().x);
    return ratio > 0.4 ? static_cast<float>(ratio) : 1.0F; // 0 while the window is put away
}

float Window::screen_scale() const {
    float x = 1, y = 1;
    glfwGetWindowContentScale(window_, &x, &y);
    return std::clamp(std::max(x, y) / pixel_ratio(), 0.75F, 4.0F);
}

void Window::rebuild_font_texture() {
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
}

void Window::wake() { glfwPostEmptyEvent(); }

} // namespace leafwright
