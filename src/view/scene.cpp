#include "view/scene.h"

#include "view/painter.h"

namespace leafwright {

struct Scene::State {
    std::shared_ptr<Plan const> plan;
    Parts parts;
    Painter painter;
    int uploads = 0;
};

Scene::Scene() : state_(std::make_unique<State>()) {}
Scene::~Scene() = default;

void Scene::show(std::shared_ptr<Plan const> plan) {
    state_->uploads = 0;
    if (plan == state_->plan) return;
    state_->plan = std::move(plan);
    ++state_->painter.shown;
    if (state_->plan) state_->uploads = state_->parts.sync(*state_->plan);
}

void Scene::draw(Camera const& camera, Viewport const& viewport, SceneOptions const& options) {
    if (viewport.width < 1 || viewport.height < 1) return;
    state_->painter.paint(state_->plan.get(), state_->parts, camera, viewport, options);
}

int Scene::uploads() const { return state_->uploads; }

} // namespace leafwright
