// A paper document in millimetres, by way of cairo: text, lines and filled shapes; y runs down from the top edge.
#pragma once

#include "base/polygon.h"

#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace leafwright {

struct PaperSize {
    double width_mm = 210;
    double height_mm = 297;
};
inline constexpr PaperSize kA4{210, 297};
inline constexpr PaperSize kLetter{215.9, 279.4};

struct Ink {
    double r = 0.16;
    double g = 0.14;
    double b = 0.12;
    double a = 1.0;
};

enum class Align { left, centre, right };
enum class Weight { regular, bold };

struct TextStyle {
    double size_mm = 3.4; // height of the type, not of its capitals
    Weight weight = Weight::regular;
    Align align = Align::left;
    Ink ink{};
};

enum class PaperKind { pdf, svg };

class Paper {
public:
    // The title goes into the file's own description.
    Paper(PaperKind kind, PaperSize size, std::string_view title);
    // An image instead of a document: one page of that many pixels, lengths in mm by the scale.
    Paper(int width_px, int height_px, double px_per_mm);
    ~Paper();
    Paper(Paper const&) = delete;
    Paper& operator=(Paper const&) = delete;

    PaperSize size() const;
    void next_page();
    void next_page(PaperSize size); // of another size; PDF only

    // Text with its baseline at y. Returns its width.
    double text(Vec2 at, std::string_view words, TextStyle const& style);
    double text_width(std::string_view words, TextStyle const& style);
    // Words wrapped to a width; returns the y of the baseline after the last line.
    double paragraph(Vec2 at, double width_mm, std::string_view words, TextStyle const& style);

    void line(std::span<Vec2 const> points, double width_mm, Ink const& ink, bool closed = false, bool dashed = false);
    void fill(std::span<Vec2 const> points, Ink const& ink);
    void fill(Polygon const& polygon, Ink const& ink);
    // Rows of RGB from the top, fitted to the box, proportions kept, centred.
    void picture(Box2 const& box, int width_px, int height_px, std::span<unsigned char const> rgb);

    // What is drawn from now on shows within the box only, until unclip().
    void clip(Box2 const& box);
    void unclip();

    // Of an image: rows of RGB from the top.
    std::vector<unsigned char> rgb() const;

    // The finished file. No page can be drawn on after that. Same drawing, same bytes.
    std::string finish();

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace leafwright
