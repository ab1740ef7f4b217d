// A figure spread over the clay: its textures and short lines on the graphics side.
#pragma once

#include "piece/plan.h"
#include "piece/shown_map.h"
#include "view/gl.h"
#include "view/lines.h"

namespace leafwright {

class MapPaint {
public:
    MapPaint();
    // Uploads when it is another map than before, or lies on another plan. Null: nothing is shown.
    // `over`: what lies on the slab in this scene; null: nothing.
    void show(std::shared_ptr<ShownMap const> map, Plan const* plan, std::shared_ptr<StackField const> over);
    bool shown() const { return map_ != nullptr; }

    // Sets the clay program, which is in use, to colour by the map; takes texture units `unit` and the next one.
    enum class On { nothing, piece, flat_slab };
    void set(Program const& clay, On on, int unit, float pixel_scale) const;
    GpuLines const& ticks(On on) const { return on == On::flat_slab ? flat_ticks_ : ticks_; }

private:
    struct Sheet {
        GlTexture values;
        glm::vec4 frame{1, 1, 0, 0};
    };
    static Sheet sheet_of(ShownMap const& map);
    void set_ticks(Plan const& plan);

    std::shared_ptr<ShownMap const> map_;
    std::shared_ptr<ClaySurface const> face_;
    std::shared_ptr<StackField const> over_;
    GlTexture colours_;
    Sheet piece_, flat_;
    GpuLines ticks_, flat_ticks_;
};

} // namespace leafwright
