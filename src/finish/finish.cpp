#include "finish/finish.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kWashWater = 10; // water to dry matter; common practice, no source
constexpr double kGlazeWater = 0.8;

class Heights {
public:
    explicit Heights(HeightPatch const& patch) : patch_(patch) {}
    double at(int column, int row) const {
        if (column < 0 || row < 0 || column >= patch_.columns || row >= patch_.rows) return 0;
        return static_cast<double>(
            patch_.height_mm[static_cast<std::size_t>(row) * static_cast<std::size_t>(patch_.columns) +
                             static_cast<std::size_t>(column)]);
    }

private:
    HeightPatch const& patch_;
};

std::vector<std::string> steps_of(FinishKind kind) {
    switch (kind) {
    case FinishKind::oxide_wash:
        return {"Sponge the dust off the fired piece and let it dry.", "Brush the wash into the veins and laps.",
                "Wipe the high places with a damp sponge before it dries."};
    case FinishKind::glaze:
        return {"Wax the rim and the back: glaze there sticks to the shelf.",
                "Brush or pour in thin layers, each dry first.",
                "Wipe 3 mm clear of the foot before it goes into the kiln."};
    case FinishKind::cold:
        return {"Brush the dust off.", "Rub the finish in thinly and polish the high places."};
    case FinishKind::none:
        break;
    }
    return {};
}

std::vector<std::string> cautions_of(FinishSpec const& spec) {
    std::vector<std::string> all;
    if (spec.kind == FinishKind::oxide_wash || spec.kind == FinishKind::glaze) {
        all.push_back("Oxides and glaze powder: gloves, no eating, wash hands, a mask while it is dusty; read the data "
                      "sheet, above all with barium, cadmium, chromium, cobalt, copper, lead, manganese.");
        all.push_back("Do not let spills dry: wipe them wet, never sweep or brush them dry.");
        all.push_back("Not for food: soluble metals can leave a wash or glaze that was not tested.");
    }
    if (spec.kind == FinishKind::cold && spec.outdoors)
        all.push_back("Paint and wax are for indoors: weather takes them off and may trap water behind them.");
    return all;
}

} // namespace

std::string_view finish_name(FinishKind kind) {
    switch (kind) {
    case FinishKind::none:
        return "none";
    case FinishKind::oxide_wash:
        return "oxide-wash";
    case FinishKind::glaze:
        return "glaze";
    case FinishKind::cold:
        break;
    }
    return "cold";
}

Figure usual_g_per_m2(FinishKind kind) {
    switch (kind) {
    case FinishKind::none:
        return Figure::exact(0);
    case FinishKind::oxide_wash:
        return {30, 15, 60, FigureFrom::by_default};
    case FinishKind::glaze:
        return {350, 250, 500, FigureFrom::by_default};
    case FinishKind::cold:
        break;
    }
    return {60, 40, 100, FigureFrom::by_default};
}

double true_face_mm2(ClayMap const& clay, HeightPatch const& height) {
    FaceMap const& face = *clay.face;
    Heights const heights(height);
    int const fine = std::max(1, static_cast<int>(std::lround(face.cell_mm / height.cell_mm)));
    double const step = face.cell_mm / fine;
    int const left = static_cast<int>(std::lround(height.origin_mm.x / step - 0.5));
    int const low = static_cast<int>(std::lround(height.origin_mm.y / step - 0.5));
    double total = 0;
    for (int row = 0; row < face.rows; ++row)
        for (int column = 0; column < face.columns; ++column) {
            std::size_t const i = face.index(column, row);
            if (!(clay.open[i] > 0)) continue;
            auto const xx = static_cast<double>(face.along_xx[i]);
            auto const xy = static_cast<double>(face.along_xy[i]);
            auto const yy = static_cast<double>(face.along_yy[i]);
            auto const bend = static_cast<double>(face.bend_per_mm[i]);
            auto const twist = static_cast<double>(face.twist_per_mm2[i]);
            double sum = 0;
            for (int y = (face.low + row) * fine - low; y < (face.low + row + 1) * fine - low; ++y)
                for (int x = (face.left + column) * fine - left; x < (face.left + column + 1) * fine - left; ++x) {
                    double const h = heights.at(x, y);
                    double const hx = (heights.at(x + 1, y) - heights.at(x - 1, y)) / (2 * step);
                    double const hy = (heights.at(x, y + 1) - heights.at(x, y - 1)) / (2 * step);
                    double const wider = std::max(0.2, 1 + h * (bend + h * twist));
                    sum += std::sqrt(wider * wider + xx * hx * hx + 2 * xy * hx * hy + yy * hy * hy);
                }
            total += static_cast<double>(clay.open[i]) * sum * step * step;
        }
    return total;
}

FinishAnswer finish_answer(FinishSpec const& spec, double face_mm2, double plain_mm2, double size_factor) {
    FinishAnswer a;
    a.kind = spec.kind;
    a.face_mm2 = face_mm2 * size_factor * size_factor;
    a.plain_mm2 = plain_mm2 * size_factor * size_factor;
    Figure const per_m2 = spec.g_per_m2 > 0 && spec.kind != FinishKind::none
                              ? Figure{spec.g_per_m2, spec.g_per_m2, spec.g_per_m2, FigureFrom::measured}
                              : usual_g_per_m2(spec.kind);
    a.dry_g = per_m2 * (spec.layers * a.face_mm2 * 1e-6);
    a.water_g = a.dry_g * (spec.kind == FinishKind::oxide_wash ? kWashWater
                           : spec.kind == FinishKind::glaze    ? kGlazeWater
                                                               : 0.0);
    a.steps = steps_of(spec.kind);
    a.cautions = cautions_of(spec);
    return a;
}

} // namespace leafwright
