#include "nest_peer.h"

#ifdef LEAFWRIGHT_LIBNEST2D

#include <algorithm>
#include <chrono>
#include <libnest2d/libnest2d.hpp>
#include <random>

// The library leaves the no-fit polygons of concave shapes to its user: here Clipper's Minkowski sum, without holes.
namespace libnest2d::nfp {
template <> struct NfpImpl<PolygonImpl, NfpLevel::CONVEX_ONLY> {
    NfpResult<PolygonImpl> operator()(PolygonImpl const& stays, PolygonImpl const& moves) const {
        auto const corner = referenceVertex(moves);
        ClipperLib::Path turned;
        for (auto const& p : moves.Contour) turned.push_back({corner.X - p.X, corner.Y - p.Y});
        ClipperLib::Paths sums;
        ClipperLib::MinkowskiSum(turned, stays.Contour, sums, true);
        PolygonImpl largest;
        for (ClipperLib::Path& sum : sums)
            if (std::abs(ClipperLib::Area(sum)) > std::abs(ClipperLib::Area(largest.Contour))) largest.Contour = sum;
        if (ClipperLib::Area(largest.Contour) > 0) ClipperLib::ReversePath(largest.Contour);
        if (!largest.Contour.empty()) largest.Contour.push_back(largest.Contour.front());
        // Where the library's own step puts it, so that it stays where it is.
        auto const there = corner + (rightmostUpVertex(stays) - leftmostDownVertex(moves));
        return {largest, there};
    }
};
} // namespace libnest2d::nfp

namespace leafwright {

namespace {

namespace peer = libnest2d;

// The library reckons in whole numbers: so many to the width of the strip.
constexpr double kAcross = 1e7;

class Peer {
public:
    explicit Peer(PeerJob const& job) : job_(job), scale_(kAcross / job.width) {
        for (auto const& outline : job.outlines) {
            peer::PolygonImpl shape; // closed; the library wants it clockwise
            for (std::size_t k = 0; k <= outline.size(); ++k) {
                auto const& p = outline[k % outline.size()];
                shape.Contour.push_back(
                    {static_cast<peer::Coord>(p.first * scale_), static_cast<peer::Coord>(p.second * scale_)});
            }
            if (ClipperLib::Orientation(shape.Contour)) ClipperLib::ReversePath(shape.Contour);
            items_.emplace_back(shape);
        }
        config_.placer_config.rotations.clear();
        for (double turn : job.turns_rad) config_.placer_config.rotations.emplace_back(turn);
        using Align = peer::NfpPlacer::Config::Alignment;
        config_.placer_config.starting_point = Align::BOTTOM_LEFT;
        config_.placer_config.alignment = Align::DONT_ALIGN;
        config_.placer_config.parallel = false;
        config_.placer_config.object_function = [this](peer::Item const& item) {
            auto const box = item.boundingBox();
            double const out = static_cast<double>(
                std::max<peer::Coord>({0, -box.minCorner().X, -box.minCorner().Y,
                                       box.maxCorner().X - static_cast<peer::Coord>(length_ * scale_),
                                       box.maxCorner().Y - static_cast<peer::Coord>(kAcross)}));
            return static_cast<double>(box.maxCorner().X) + across_ * static_cast<double>(box.maxCorner().Y) +
                   1e3 * out;
        };
    }

    double best(double seconds) {
        auto const begin = std::chrono::steady_clock::now();
        auto const is_over = [&] {
            return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count() >= seconds;
        };
        std::mt19937 random(1);
        std::uniform_real_distribution<double> share(0, 0.5);
        double const length = 3 * job_.area / job_.width;
        double least = 0;
        for (across_ = 0.01; !is_over(); across_ = share(random)) {
            double const used = laid(length, is_over);
            if (used > 0 && (least == 0 || used < least)) least = used;
        }
        return least > 0 ? job_.area / (job_.width * least) : 0;
    }

private:
    // How long it comes to be on one sheet of this length; 0 when not all find room.
    double laid(double length, std::function<bool()> const& is_over) {
        std::vector<peer::Item> items = items_;
        length_ = length;
        peer::Box const bin({0, 0}, {static_cast<peer::Coord>(length * scale_), static_cast<peer::Coord>(kAcross)});
        std::size_t const bins = peer::nest(items, bin, 0, config_, peer::NestControl(is_over));
        if (bins != 1) return 0;
        double low = 1e300, high = -1e300;
        for (peer::Item& i : items) {
            if (i.binId() != 0) return 0;
            auto const box = i.boundingBox();
            low = std::min(low, static_cast<double>(box.minCorner().X));
            high = std::max(high, static_cast<double>(box.maxCorner().X));
        }
        return (high - low) / scale_;
    }

    PeerJob const& job_;
    double scale_, length_ = 0, across_ = 0;
    std::vector<peer::Item> items_;
    peer::NestConfig<> config_;
};

} // namespace

bool nest_peer_is_built() { return true; }
double nest_peer_density(PeerJob const& job, double seconds) { return Peer(job).best(seconds); }

} // namespace leafwright

#else

namespace leafwright {

bool nest_peer_is_built() { return false; }
double nest_peer_density(PeerJob const&, double) { return 0; }

} // namespace leafwright

#endif
