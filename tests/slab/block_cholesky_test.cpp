// The factor by dense blocks beside Eigen's, which eliminates column by column.
#include "drape_samples.h"
#include "near.h"
#include "slab/block_cholesky.h"
#include "slab/nested_order.h"

#include <Eigen/SparseCholesky>
#include <set>

using namespace leafwright;

namespace {

struct System {
    BlockCholesky::Matrix matrix;
    std::vector<BlockCholesky::Part> parts;
};

// The mesh's Laplacian, one unknown a vertex, in the tree's order.
System laplacian(DrapeMesh const& mesh, double shift) {
    EliminationTree const tree = nested_order(mesh);
    System system;
    for (auto const& part : tree.parts) system.parts.push_back({part.first, part.last, part.left, part.right});
    std::vector<std::int32_t> place(mesh.azimuth.size());
    for (std::size_t i = 0; i < tree.order.size(); ++i)
        place[static_cast<std::size_t>(tree.order[i])] = static_cast<std::int32_t>(i);
    std::vector<Eigen::Triplet<double, std::int32_t>> entries;
    for (DrapeTriangle const& t : mesh.triangles)
        for (std::size_t i = 0; i < 3; ++i) {
            std::int32_t const a = place[static_cast<std::size_t>(t[i])];
            std::int32_t const b = place[static_cast<std::size_t>(t[(i + 1) % 3])];
            entries.emplace_back(std::max(a, b), std::min(a, b), -1);
            entries.emplace_back(a, a, 1 + shift);
            entries.emplace_back(b, b, 1 + shift);
        }
    auto const n = static_cast<Eigen::Index>(tree.order.size());
    system.matrix.resize(n, n);
    system.matrix.setFromTriplets(entries.begin(), entries.end());
    return system;
}

DrapeMesh mesh_of(int rings) {
    MeridianTable const oval = sample::table_of(sample::oval_spec(90));
    return make_drape_mesh(oval, drape_domain(oval, Mirrors::none, {}).whole, rings);
}

} // namespace

TEST_CASE("the order of elimination holds every vertex once") {
    DrapeMesh const mesh = mesh_of(20);
    EliminationTree const tree = nested_order(mesh);
    std::set<std::int32_t> const once(tree.order.begin(), tree.order.end());
    CHECK(once.size() == tree.order.size());
    CHECK(static_cast<int>(once.size()) == mesh.vertices());
    CHECK(tree.parts.back().last == static_cast<std::int32_t>(tree.order.size()));
}

TEST_CASE("a factor by blocks solves as Eigen's factor does") {
    System const system = laplacian(mesh_of(30), 0.01);
    BlockCholesky blocks;
    blocks.analyse(system.matrix, system.parts);
    REQUIRE(blocks.factorize(system.matrix));
    Eigen::SimplicialLDLT<BlockCholesky::Matrix> const columns(system.matrix);
    Eigen::VectorXd right(system.matrix.rows());
    for (Eigen::Index i = 0; i < right.size(); ++i) right[i] = std::sin(0.7 * static_cast<double>(i));
    Eigen::VectorXd const expected = columns.solve(right);
    CHECK_NEAR((blocks.solve(right) - expected).norm() / expected.norm(), 0, 1e-12);
}

TEST_CASE("a matrix that is not positive definite is told") {
    System const system = laplacian(mesh_of(8), -0.5);
    BlockCholesky blocks;
    blocks.analyse(system.matrix, system.parts);
    CHECK_FALSE(blocks.factorize(system.matrix));
}
