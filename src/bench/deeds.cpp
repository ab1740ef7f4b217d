// What the hand did over the picture, carried out.
#include "bench/desk.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kTurn_deg_per_em = 6;
constexpr double kZoomPerNotch = 1.12;

struct Doer {
    Desk& desk;

    void operator()(SelectLeaves const& deed) const { carry_out(desk, ChooseLeaves{deed.ids}); }
    void operator()(SelectFeature const& deed) const { carry_out(desk, PickUpFeature{deed.index}); }
    void operator()(ShowChange const& deed) const { desk.state.history.preview(by_hand(desk, deed.command)); }
    void operator()(KeepChange) const { desk.state.history.commit_preview(); }
    void operator()(DropChange) const { desk.state.history.drop_preview(); }
    void operator()(MakeChange const& deed) const { carry_out(desk, Commit{by_hand(desk, deed.command)}); }

    void operator()(TurnView const& deed) const {
        if (desk.ui.look == Look::flat) return (*this)(MoveView{deed.by_px});
        double const step = kTurn_deg_per_em / static_cast<double>(desk.ui.theme.em);
        Camera& camera = camera_of(desk.ui);
        camera = turned(camera, -deed.by_px.x * step, deed.by_px.y * step);
    }
    void operator()(MoveView const& deed) const {
        camera_of(desk.ui) = panned(camera_of(desk.ui), desk.ui.picture, deed.by_px);
    }
    void operator()(ZoomView const& deed) const {
        camera_of(desk.ui) = zoomed(camera_of(desk.ui), std::pow(kZoomPerNotch, deed.notches));
    }
    void operator()(PickInBox const& deed) const {
        std::vector<int> ids = deed.adding ? desk.ui.selected : std::vector<int>{};
        Vec2 const corner{desk.ui.picture.x, desk.ui.picture.y};
        for (LeafPlacement const& leaf : desk.state.history.now().leaves) {
            auto const middle = middle_on_screen(desk, leaf);
            if (!middle) continue;
            Vec2 const at = *middle - corner;
            bool const inside =
                at.x >= deed.low_px.x && at.x <= deed.high_px.x && at.y >= deed.low_px.y && at.y <= deed.high_px.y;
            if (inside && std::find(ids.begin(), ids.end(), leaf.id) == ids.end()) ids.push_back(leaf.id);
        }
        carry_out(desk, ChooseLeaves{ids});
    }
    void operator()(OpenCard const& deed) const {
        carry_out(desk, ChooseLeaves{{deed.id}});
        carry_out(desk, GoToStage{MakingStage::leaves});
        desk.ui.scroll_to_card = true;
    }
};

} // namespace

void carry_out(Desk& desk, std::vector<Deed> const& deeds) {
    for (Deed const& deed : deeds) std::visit(Doer{desk}, deed);
}

} // namespace leafwright
