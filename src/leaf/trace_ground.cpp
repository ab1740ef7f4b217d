// What the bare paper looks like under the leaves: a smooth surface through what is surely paper.
//
// The picture is looked at in blocks. Most of the paper's rim is bare, so the commonest colour there (of all blocks,
// the rim counting most) starts a plane in the logarithm of light, fitted again and again to the blocks that agree with
// it, then curved surfaces, at last what is left over, smoothed over near blocks. Shade lowers light in all three
// colours alike and is taken along as long as it is gentle; a leaf changes the colour and is not.
#include "leaf/trace_work.h"

#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kBlock = 8;
constexpr float kDarkest = 0.0015F;
constexpr int kMostTerms = 10;

struct Block {
    cv::Vec3d log{}; // of the mean light
    double x = 0;    // -1 to 1
    double y = 0;
    double weight = 1; // by where it lies
    int column = 0;
    int row = 0;
};

struct Blocks {
    std::vector<Block> all;
    int columns = 0;
    int rows = 0;
};

cv::Vec3d log_of(cv::Vec3f const& light) {
    return {std::log(std::max(light[0], kDarkest)), std::log(std::max(light[1], kDarkest)),
            std::log(std::max(light[2], kDarkest))};
}

// Blocks that lie wholly in the area and hold one colour; those at its rim weigh more.
Blocks blocks_of(cv::Mat3f const& light, cv::Mat1b const& area) {
    Blocks blocks;
    blocks.columns = (light.cols + kBlock - 1) / kBlock;
    blocks.rows = (light.rows + kBlock - 1) / kBlock;
    cv::Mat1f depth;
    cv::Mat1b padded;
    cv::copyMakeBorder(area, padded, 1, 1, 1, 1, cv::BORDER_CONSTANT, 0);
    cv::distanceTransform(padded, depth, cv::DIST_L2, 3);
    double const rim = 0.06 * std::sqrt(static_cast<double>(cv::countNonZero(area)));
    for (int r = 0; r < light.rows / kBlock; ++r)
        for (int c = 0; c < light.cols / kBlock; ++c) {
            cv::Rect const box(c * kBlock, r * kBlock, kBlock, kBlock);
            if (cv::countNonZero(area(box)) < kBlock * kBlock) continue;
            cv::Scalar mean;
            cv::Scalar deviation;
            cv::meanStdDev(light(box), mean, deviation);
            if (deviation[1] > 0.25 * mean[1] + 0.01) continue; // an edge runs through it
            double const deep = static_cast<double>(depth(r * kBlock + kBlock / 2, c * kBlock + kBlock / 2));
            Block block;
            block.log = log_of(
                cv::Vec3f(static_cast<float>(mean[0]), static_cast<float>(mean[1]), static_cast<float>(mean[2])));
            block.x = 2.0 * (c + 0.5) * kBlock / light.cols - 1;
            block.y = 2.0 * (r + 0.5) * kBlock / light.rows - 1;
            block.weight = deep < rim ? 4 : 1;
            block.column = c;
            block.row = r;
            blocks.all.push_back(block);
        }
    return blocks;
}

// How far a block is off, as shade (all colours alike) and as colour.
struct Off {
    double shade = 0;
    double colour = 0;
};
Off off_of(cv::Vec3d const& log, cv::Vec3d const& at) {
    cv::Vec3d const d = log - at;
    double const mean = (d[0] + d[1] + d[2]) / 3;
    return {mean, std::max({std::abs(d[0] - mean), std::abs(d[1] - mean), std::abs(d[2] - mean)})};
}

cv::Vec3d commonest(std::vector<Block> const& blocks) {
    std::size_t const stride = std::max<std::size_t>(1, blocks.size() / 400);
    double most = -1;
    cv::Vec3d best{};
    for (std::size_t i = 0; i < blocks.size(); i += stride) {
        double count = 0;
        cv::Vec3d sum{};
        for (Block const& other : blocks) {
            Off const off = off_of(other.log, blocks[i].log);
            if (std::abs(off.shade) > 0.2 || off.colour > 0.08) continue;
            count += other.weight;
            sum += other.weight * other.log;
        }
        // Of two that are as common the lighter one is the paper.
        double const lightness = (blocks[i].log[0] + blocks[i].log[1] + blocks[i].log[2]) / 3;
        double const worth = count * (1 + 0.25 * std::exp(0.5 * lightness));
        if (worth <= most) continue;
        most = worth;
        best = sum * (1 / count);
    }
    return best;
}

using Terms = std::array<double, kMostTerms>;
Terms terms_of(double x, double y) {
    return {1, x, y, x * x, x * y, y * y, x * x * x, x * x * y, x * y * y, y * y * y};
}

struct Surface {
    int terms = 1;
    std::array<Terms, 3> by_colour{};
    cv::Vec3d at(double x, double y) const {
        Terms const t = terms_of(x, y);
        cv::Vec3d log{};
        for (int c = 0; c < 3; ++c)
            for (int k = 0; k < terms; ++k)
                log[c] += by_colour[static_cast<std::size_t>(c)][static_cast<std::size_t>(k)] *
                          t[static_cast<std::size_t>(k)];
        return log;
    }
};

struct Agree {
    double darker = 0.5;
    double lighter = 0.25;
    double colour = 0.08;
};
double weight_of(Block const& block, cv::Vec3d const& at, Agree const& agree) {
    Off const off = off_of(block.log, at);
    double const share =
        std::max(off.shade < 0 ? -off.shade / agree.darker : off.shade / agree.lighter, off.colour / agree.colour);
    if (share >= 1) return 0;
    double const w = 1 - share * share;
    return block.weight * w * w;
}

// One round of the fit; stays as it was when too little agrees.
bool fit(std::vector<Block> const& blocks, Surface& surface, int terms, Agree const& agree) {
    cv::Matx<double, kMostTerms, kMostTerms> normal = cv::Matx<double, kMostTerms, kMostTerms>::zeros();
    cv::Matx<double, kMostTerms, 3> right = cv::Matx<double, kMostTerms, 3>::zeros();
    int agreeing = 0;
    double total = 0;
    for (Block const& block : blocks) {
        double const w = weight_of(block, surface.at(block.x, block.y), agree);
        if (w <= 0) continue;
        ++agreeing;
        total += w;
        Terms const t = terms_of(block.x, block.y);
        for (int i = 0; i < terms; ++i) {
            for (int j = 0; j < terms; ++j)
                normal(i, j) += w * t[static_cast<std::size_t>(i)] * t[static_cast<std::size_t>(j)];
            for (int c = 0; c < 3; ++c) right(i, c) += w * t[static_cast<std::size_t>(i)] * block.log[c];
        }
    }
    if (agreeing < 4 * terms) return false;
    for (int i = 0; i < kMostTerms; ++i) normal(i, i) += i < terms ? (i == 0 ? 0 : 1e-4 * total) : 1;
    cv::Matx<double, kMostTerms, 3> x;
    if (!cv::solve(normal, right, x, cv::DECOMP_CHOLESKY)) return false;
    surface.terms = terms;
    for (int c = 0; c < 3; ++c)
        for (int k = 0; k < kMostTerms; ++k)
            surface.by_colour[static_cast<std::size_t>(c)][static_cast<std::size_t>(k)] = k < terms ? x(k, c) : 0;
    return true;
}

Surface surface_of(std::vector<Block> const& blocks) {
    Surface surface;
    cv::Vec3d const start = commonest(blocks);
    for (std::size_t c = 0; c < 3; ++c) surface.by_colour[c][0] = start[static_cast<int>(c)];
    struct Round {
        int terms;
        int times;
        Agree agree;
    };
    for (Round const& round : {Round{1, 1, {0.3, 0.3, 0.1}}, Round{3, 6, {0.4, 0.3, 0.1}},
                               Round{6, 5, {0.4, 0.25, 0.09}}, Round{10, 5, {0.35, 0.2, 0.08}}})
        for (int k = 0; k < round.times; ++k)
            if (!fit(blocks, surface, round.terms, round.agree)) break;
    return surface;
}

// What blocks of paper differ from the surface by, smoothed; where none is near, nothing.
cv::Mat3f left_over(Blocks const& blocks, Surface const& surface) {
    cv::Mat3f sum(blocks.rows, blocks.columns, cv::Vec3f{});
    cv::Mat1f weight(blocks.rows, blocks.columns, 0.0F);
    for (Block const& block : blocks.all) {
        cv::Vec3d const at = surface.at(block.x, block.y);
        double const w = std::min(1.0, weight_of(block, at, {0.5, 0.3, 0.07}));
        if (w <= 0) continue;
        weight(block.row, block.column) = static_cast<float>(w);
        sum(block.row, block.column) = cv::Vec3f(block.log - at) * static_cast<float>(w);
    }
    cv::Mat3f near_sum;
    cv::Mat1f near_weight;
    cv::GaussianBlur(sum, near_sum, {}, 2.0, 2.0, cv::BORDER_CONSTANT);
    cv::GaussianBlur(weight, near_weight, {}, 2.0, 2.0, cv::BORDER_CONSTANT);
    for (int r = 0; r < sum.rows; ++r)
        for (int c = 0; c < sum.cols; ++c) near_sum(r, c) *= 1.0F / (near_weight(r, c) + 0.05F);
    return near_sum;
}

cv::Mat3f light_of(Surface const& surface, cv::Mat3f const& rest, cv::Size size) {
    cv::Mat3f log(rest.size());
    for (int r = 0; r < log.rows; ++r)
        for (int c = 0; c < log.cols; ++c) {
            double const x = 2.0 * (c + 0.5) * kBlock / size.width - 1;
            double const y = 2.0 * (r + 0.5) * kBlock / size.height - 1;
            log(r, c) = cv::Vec3f(surface.at(x, y)) + rest(r, c);
        }
    cv::exp(log, log);
    cv::Mat3f light;
    cv::resize(log, light, {log.cols * kBlock, log.rows * kBlock}, 0, 0, cv::INTER_LINEAR);
    return light(cv::Rect({0, 0}, size)).clone();
}

// Differences between neighbours two pixels apart, where all is paper: free of any gradient.
void measure_noise(Coarse const& coarse, cv::Mat1b const& area, Ground& ground) {
    cv::Mat3f even;
    cv::divide(coarse.light, ground.light, even);
    cv::Mat3f const lab = lab_of(even);
    std::vector<float> l;
    std::vector<float> ab;
    std::vector<float> luma;
    for (int y = 0; y < lab.rows; y += 3)
        for (int x = 2; x < lab.cols; x += 3) {
            luma.push_back(coarse.light(y, x)[1]);
            if (!area(y, x)) continue;
            cv::Vec3f const v = lab(y, x);
            if (std::abs(v[0] - 100) > 12 || std::hypot(v[1], v[2]) > 8) continue;
            cv::Vec3f const d = v - lab(y, x - 2);
            l.push_back(std::abs(d[0]));
            ab.push_back(std::hypot(d[1], d[2]));
        }
    ground.noise_l = std::max(0.2, 1.05 * static_cast<double>(quantile(std::move(l), 0.5)));
    ground.noise_ab = std::max(0.2, 0.6 * static_cast<double>(quantile(std::move(ab), 0.5)));
    cv::Scalar const mean = cv::mean(ground.light, area);
    ground.luma = mean[1] / std::max(1e-3, static_cast<double>(quantile(std::move(luma), 0.995)));
}

} // namespace

Outcome<Ground> ground_of(Coarse const& coarse, cv::Mat1b const& area) {
    Blocks const blocks = blocks_of(coarse.light, area);
    if (blocks.all.size() < 40)
        return Problem{"trace.none", "", "holds no stretch of bare paper beside the leaves",
                       "Lay the leaves on plain paper with bare paper around each of them", ProblemKind::refusal};
    Surface const surface = surface_of(blocks.all);
    Ground ground;
    ground.light = light_of(surface, left_over(blocks, surface), coarse.light.size());
    measure_noise(coarse, area, ground);
    return ground;
}

} // namespace leafwright
