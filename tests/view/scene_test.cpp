#include "near.h"
#include "sample_plan.h"
#include "view/egl_context.h"
#include "view/scene.h"

#include <epoxy/gl.h>

using namespace leafwright;

namespace {

// A context with a framebuffer bound, or nothing where there is no driver.
std::unique_ptr<EglContext> context_or_skip() {
    auto context = EglContext::make();
    if (context) return std::move(context).value();
    MESSAGE("skipped: " << context.problem().sentence());
    return nullptr;
}

struct Target {
    int width = 320, height = 200;
    GLuint frame = 0, buffers[2] = {0, 0};

    Target() {
        glGenFramebuffers(1, &frame);
        glGenRenderbuffers(2, buffers);
        glBindRenderbuffer(GL_RENDERBUFFER, buffers[0]);
        glRenderbufferStorage(GL_RENDERBUFFER, GL_RGBA8, width, height);
        glBindRenderbuffer(GL_RENDERBUFFER, buffers[1]);
        glRenderbufferStorage(GL_RENDERBUFFER, GL_DEPTH_COMPONENT24, width, height);
        glBindFramebuffer(GL_FRAMEBUFFER, frame);
        glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, buffers[0]);
        glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, buffers[1]);
    }
    ~Target() {
        glDeleteFramebuffers(1, &frame);
        glDeleteRenderbuffers(2, buffers);
    }
    std::vector<unsigned char> pixels() const {
        std::vector<unsigned char> out(static_cast<std::size_t>(width * height) * 3);
        glPixelStorei(GL_PACK_ALIGNMENT, 1);
        glReadPixels(0, 0, width, height, GL_RGB, GL_UNSIGNED_BYTE, out.data());
        return out;
    }
};

Camera camera_for(Plan const& plan, SceneOptions const& options) {
    Vec3 const size = scene_size(plan, options);
    return home_camera(HomeView::front, size.x, size.y, size.z, 1.6);
}

} // namespace

TEST_CASE("moving one leaf uploads that leaf and those it lies on or under, no more") {
    auto const context = context_or_skip();
    if (!context) return;
    Planner planner;
    Piece piece = sample::piece();
    Scene scene;
    scene.show(planner.plan(piece).value());
    CHECK(scene.uploads() >= 20);
    scene.show(planner.plan(piece).value());
    CHECK(scene.uploads() == 0);
    piece.leaves[13].turn_deg += 3;
    scene.show(planner.plan(piece).value());
    CHECK(scene.uploads() >= 1);
    CHECK(scene.uploads() <= 6);
    CHECK(glGetError() == GL_NO_ERROR);
}

TEST_CASE("every stage and look is drawn without an error of OpenGL, into the viewport only") {
    auto const context = context_or_skip();
    if (!context) return;
    Target const target;
    auto const plan = sample::plan_of(sample::piece());
    REQUIRE(plan);
    Scene scene;
    scene.show(plan);
    glClearColor(0, 0, 0, 1);
    glClear(GL_COLOR_BUFFER_BIT);
    for (MakingStage const stage : kMakingLine)
        for (double const flatness : {0.0, 0.5, 1.0}) {
            SceneOptions options;
            options.stage = stage;
            options.flatness = flatness;
            options.selected = {3, 999};
            options.hovered = 4;
            options.selected_feature = 0;
            options.show_rows = true;
            scene.draw(camera_for(*plan, options), {80, 0, 240, 200}, options);
            CHECK(glGetError() == GL_NO_ERROR);
        }
    auto const pixels = target.pixels();
    CHECK(pixels[(100 * 320 + 40) * 3] == 0);
    CHECK(pixels[(100 * 320 + 90) * 3] > 100);
    GLint bound = 0;
    glGetIntegerv(GL_DRAW_FRAMEBUFFER_BINDING, &bound);
    CHECK(static_cast<GLuint>(bound) == target.frame);
}

TEST_CASE("a leaf that is selected or under the pointer is marked in dark and light, not in colour alone") {
    auto const context = context_or_skip();
    if (!context) return;
    Target const target;
    auto const plan = sample::plan_of(sample::piece());
    REQUIRE(plan);
    Scene scene;
    scene.show(plan);
    SceneOptions options;
    auto const drawn = [&] {
        scene.draw(camera_for(*plan, options), {0, 0, 320, 200}, options);
        return target.pixels();
    };
    auto const plain = drawn();
    options.selected = {14};
    auto const marked = drawn();
    int darker = 0, lighter = 0;
    for (std::size_t i = 0; i < plain.size(); i += 3) {
        int const change = (marked[i] + marked[i + 1] + marked[i + 2]) - (plain[i] + plain[i + 1] + plain[i + 2]);
        darker += change < -90;
        lighter += change > 120;
    }
    CHECK(darker > 30);
    CHECK(lighter > 15);
    options.selected.clear();
    options.hovered = 14;
    CHECK(drawn() != plain);
    options.hovered = 0;
    CHECK(drawn() == plain);
}

TEST_CASE("what a scene shows does not depend on what it showed before") {
    auto const context = context_or_skip();
    if (!context) return;
    Target const target;
    Piece piece = sample::piece();
    auto const first = sample::plan_of(piece);
    piece.leaves[5].from_crown_mm -= 20;
    piece.leaves[6].flipped = true;
    piece.leaves.erase(piece.leaves.begin() + 2);
    piece.features.clear();
    auto const second = sample::plan_of(piece);
    REQUIRE(first);
    REQUIRE(second);
    SceneOptions const options;
    Scene fresh, used;
    fresh.show(second);
    fresh.draw(camera_for(*second, options), {0, 0, 320, 200}, options);
    auto const expected = target.pixels();
    used.show(first);
    used.draw(camera_for(*first, options), {0, 0, 320, 200}, options);
    CHECK(target.pixels() != expected);
    used.show(second);
    used.draw(camera_for(*second, options), {0, 0, 320, 200}, options);
    CHECK(target.pixels() == expected);
}

TEST_CASE("scenes are opened and closed one after the other, with a plan and without") {
    for (int round = 0; round < 2; ++round) {
        auto const context = context_or_skip();
        if (!context) return;
        Target const target;
        Scene scene;
        scene.draw({}, {0, 0, 320, 200}, {});
        scene.show(nullptr);
        scene.draw({}, {0, 0, 320, 200}, {});
        scene.show(sample::plan_of(sample::piece(false)));
        scene.draw({}, {0, 0, 320, 200}, {});
        CHECK(glGetError() == GL_NO_ERROR);
    }
}
