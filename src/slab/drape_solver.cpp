#include "slab/drape_solver.h"

#include "base/units.h"
#include "slab/block_cholesky.h"
#include "slab/nested_order.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

using Matrix = BlockCholesky::Matrix;
using Vector = Eigen::VectorXd;

constexpr int kMostSteps = 80;
constexpr int kMostConjugateSteps = 8;
constexpr double kShift = 1e-10;       // of the mean diagonal: holds pieces that nothing else holds
constexpr double kStillEnergy = 1e-14; // by area: a slab that needs no stretch at all

// A vertex on a spoke along x keeps y = 0, on one along y x = 0.
void hold(DrapeMesh const& mesh, std::size_t spoke, int ring, std::vector<std::array<char, 2>>& held) {
    bool const along_x = std::abs(std::sin(mesh.region.spokes[spoke].azimuth_rad)) < 0.5;
    int const vertex = mesh.vertex(ring, static_cast<int>(spoke) * ring);
    held[static_cast<std::size_t>(vertex)][along_x ? 1 : 0] = 1;
}

std::vector<std::array<char, 2>> held_coordinates(DrapeMesh const& mesh) {
    std::vector<std::array<char, 2>> held(mesh.azimuth.size(), {0, 0});
    bool const first = mesh.region.first == DrapeEnd::mirror, last = mesh.region.last == DrapeEnd::mirror;
    std::size_t const last_spoke = mesh.region.spokes.size() - 1;
    held[0] = {1, 1};
    for (int ring = 1; first && ring <= mesh.tip_ring(0); ++ring) hold(mesh, 0, ring, held);
    for (int ring = 1; last && ring <= mesh.tip_ring(last_spoke); ++ring) hold(mesh, last_spoke, ring, held);
    if (!first && !last) hold(mesh, 0, mesh.tip_ring(0), held);
    return held;
}

} // namespace

struct DrapeSolver::Data {
    std::vector<std::array<std::int32_t, 2>> unknown; // by vertex and coordinate; -1: held
    std::vector<std::array<std::int32_t, 21>> slot;   // by triangle: where in the matrix, -1: nowhere
    Matrix hessian;
    Vector gradient, diagonal;
    BlockCholesky factor;
    std::vector<BlockCholesky::Part> parts;
    std::int32_t unknowns = 0;
    bool factored = false; // the factor is of this solve, though maybe of an earlier step

    void number_unknowns(DrapeMesh const& mesh);
    void draw_pattern(DrapeMesh const& mesh);
    void find_slots(DrapeMesh const& mesh);
    void for_pairs(DrapeTriangle const& t, auto const& visit) const;

    double assemble(Membrane const& membrane, std::span<Vec2 const> at);
    void factorize();
    bool conjugate(Vector& x, double accuracy) const;
    Vector newton_step();
    std::vector<Vec2> spread(Vector const& x) const;
};

// Pairs of unknowns (row >= column) in the order of Membrane::Local's 21 values.
void DrapeSolver::Data::for_pairs(DrapeTriangle const& t, auto const& visit) const {
    std::int32_t of[6];
    for (std::size_t i = 0; i < 6; ++i) of[i] = unknown[static_cast<std::size_t>(t[i / 2])][i % 2];
    std::size_t k = 0;
    for (int i = 0; i < 6; ++i)
        for (int j = 0; j <= i; ++j, ++k)
            if (of[i] >= 0 && of[j] >= 0) visit(k, std::max(of[i], of[j]), std::min(of[i], of[j]));
}

void DrapeSolver::Data::number_unknowns(DrapeMesh const& mesh) {
    auto const held = held_coordinates(mesh);
    unknown.assign(mesh.azimuth.size(), {-1, -1});
    EliminationTree const tree = nested_order(mesh);
    for (EliminationTree::Part const& part : tree.parts) {
        std::int32_t const first = unknowns;
        for (std::int32_t i = part.first; i < part.last; ++i) {
            auto const v = static_cast<std::size_t>(tree.order[static_cast<std::size_t>(i)]);
            for (std::size_t c = 0; c < 2; ++c)
                if (!held[v][c]) unknown[v][c] = unknowns++;
        }
        parts.push_back({first, unknowns, part.left, part.right});
    }
}

void DrapeSolver::Data::draw_pattern(DrapeMesh const& mesh) {
    std::vector<Eigen::Triplet<double, std::int32_t>> entries;
    entries.reserve(mesh.triangles.size() * 21);
    for (DrapeTriangle const& t : mesh.triangles)
        for_pairs(t, [&](std::size_t, std::int32_t row, std::int32_t column) { entries.emplace_back(row, column, 1); });
    hessian.resize(unknowns, unknowns);
    hessian.setFromTriplets(entries.begin(), entries.end());
    hessian.makeCompressed();
}

void DrapeSolver::Data::find_slots(DrapeMesh const& mesh) {
    std::int32_t const *outer = hessian.outerIndexPtr(), *inner = hessian.innerIndexPtr();
    slot.resize(mesh.triangles.size());
    for (std::size_t i = 0; i < slot.size(); ++i) {
        slot[i].fill(-1);
        for_pairs(mesh.triangles[i], [&](std::size_t k, std::int32_t row, std::int32_t column) {
            auto const* const found = std::lower_bound(inner + outer[column], inner + outer[column + 1], row);
            slot[i][k] = static_cast<std::int32_t>(found - inner);
        });
    }
}

double DrapeSolver::Data::assemble(Membrane const& membrane, std::span<Vec2 const> at) {
    gradient.setZero(unknowns);
    double* const value = hessian.valuePtr();
    std::fill_n(value, hessian.nonZeros(), 0.0);
    std::span<RestTriangle const> const triangles = membrane.triangles();
    Membrane::Local local;
    double energy = 0;
    for (std::size_t i = 0; i < triangles.size(); ++i) {
        membrane.local(triangles[i], at, local);
        energy += local.energy;
        for (std::size_t k = 0; k < 6; ++k) {
            std::int32_t const u = unknown[static_cast<std::size_t>(triangles[i].vertex[k / 2])][k % 2];
            if (u >= 0) gradient[u] += local.gradient[k];
        }
        for (std::size_t k = 0; k < 21; ++k)
            if (slot[i][k] >= 0) value[slot[i][k]] += local.hessian[k];
    }
    diagonal = hessian.diagonal();
    double const shift = kShift * diagonal.sum() / unknowns;
    std::int32_t const* outer = hessian.outerIndexPtr(); // of the lower half, the diagonal comes first in its column
    for (std::int32_t u = 0; u < unknowns; ++u) value[outer[u]] += shift;
    return energy;
}

// Rounding may leave a matrix that is barely definite not so: then a little stiffness is added until it is.
void DrapeSolver::Data::factorize() {
    double more = kShift * diagonal.sum() / unknowns;
    while (!factor.factorize(hessian)) {
        more *= 100;
        for (std::int32_t u = 0; u < unknowns; ++u) hessian.valuePtr()[hessian.outerIndexPtr()[u]] += more;
    }
    factored = true;
}

// Conjugate gradients with an earlier factor: the Hessian has moved little since. False when they take too long.
bool DrapeSolver::Data::conjugate(Vector& x, double accuracy) const {
    Vector residual = -gradient;
    x = factor.solve(residual);
    residual -= hessian.selfadjointView<Eigen::Lower>() * x;
    double const goal = accuracy * gradient.norm();
    Vector way, image;
    double last = 0;
    for (int step = 0; step < kMostConjugateSteps; ++step) {
        if (residual.norm() <= goal) return true;
        Vector const eased = factor.solve(residual);
        double const now = residual.dot(eased);
        if (step == 0)
            way = eased;
        else
            way = eased + (now / last) * way;
        last = now;
        image.noalias() = hessian.selfadjointView<Eigen::Lower>() * way;
        double const length = now / way.dot(image);
        if (!(length > 0)) return false;
        x += length * way;
        residual -= length * image;
    }
    return residual.norm() <= goal;
}

Vector DrapeSolver::Data::newton_step() {
    constexpr double kAccuracy = 3e-2;
    Vector x;
    if (factored && conjugate(x, kAccuracy) && gradient.dot(x) < 0) return x;
    factorize();
    x = factor.solve(-gradient);
    return x;
}

std::vector<Vec2> DrapeSolver::Data::spread(Vector const& x) const {
    std::vector<Vec2> way(unknown.size(), Vec2(0, 0));
    for (std::size_t v = 0; v < way.size(); ++v) {
        if (unknown[v][0] >= 0) way[v].x = x[unknown[v][0]];
        if (unknown[v][1] >= 0) way[v].y = x[unknown[v][1]];
    }
    return way;
}

DrapeSolver::DrapeSolver(DrapeMesh const& mesh) : data_(std::make_unique<Data>()) {
    data_->number_unknowns(mesh);
    data_->draw_pattern(mesh);
    data_->find_slots(mesh);
    data_->factor.analyse(data_->hessian, data_->parts);
}
DrapeSolver::~DrapeSolver() = default;
DrapeSolver::DrapeSolver(DrapeSolver&&) noexcept = default;
DrapeSolver& DrapeSolver::operator=(DrapeSolver&&) noexcept = default;

DrapeSolve DrapeSolver::solve(Membrane const& membrane, std::vector<Vec2> start, double tolerance, Task& task) {
    constexpr double kEase = 0.8, kArmijo = 1e-4, kShortest = 1e-8;
    DrapeSolve result;
    result.flat = std::move(start);
    data_->factored = false;
    std::vector<Vec2> tried(result.flat.size());
    for (; result.steps < kMostSteps && !result.settled; ++result.steps) {
        if ((result.cancelled = task.cancelled())) return result;
        result.energy_mm2 = data_->assemble(membrane, result.flat);
        Vector const x = data_->newton_step();
        double const slope = data_->gradient.dot(x);
        if (!(slope < 0)) {
            result.settled = slope == 0;
            break;
        }
        std::vector<Vec2> const way = data_->spread(x);
        double const clear = membrane.clear_step(result.flat, way);
        double step = clear < 1 ? kEase * clear : 1, energy = 0;
        for (; step > kShortest; step *= 0.5) {
            for (std::size_t v = 0; v < tried.size(); ++v) tried[v] = result.flat[v] + step * way[v];
            energy = membrane.energy(tried);
            if (energy <= result.energy_mm2 + kArmijo * step * slope) break;
        }
        bool const still = -0.5 * slope <= tolerance * result.energy_mm2 + kStillEnergy * membrane.area_mm2();
        result.settled = still;
        if (step <= kShortest) break; // no way down: rounding, or stuck
        std::swap(result.flat, tried);
        result.energy_mm2 = energy;
    }
    return result;
}

} // namespace leafwright
