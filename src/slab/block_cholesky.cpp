#include "slab/block_cholesky.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <oneapi/tbb/parallel_invoke.h>

namespace leafwright {

namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;
using Panel = Eigen::Map<MatrixXd>;
using ConstPanel = Eigen::Map<MatrixXd const>;

constexpr int kSideBySide = 3000; // unknowns below which a second thread is not worth its start

void add_remainder(MatrixXd& front, MatrixXd const& remainder, std::vector<std::int32_t> const& where) {
    auto const n = static_cast<Eigen::Index>(where.size());
    for (Eigen::Index j = 0; j < n; ++j) {
        double* const column = &front(0, where[static_cast<std::size_t>(j)]);
        for (Eigen::Index i = j; i < n; ++i) column[where[static_cast<std::size_t>(i)]] += remainder(i, j);
    }
}

} // namespace

void BlockCholesky::analyse(Matrix const& lower, std::vector<Part> const& parts) {
    blocks_.assign(parts.size(), {});
    row_in_block_.assign(static_cast<std::size_t>(lower.nonZeros()), 0);
    std::vector<std::int32_t> place(static_cast<std::size_t>(lower.rows()), 0);
    std::int32_t const *outer = lower.outerIndexPtr(), *inner = lower.innerIndexPtr();
    std::size_t stored = 0;
    for (std::size_t b = 0; b < parts.size(); ++b) {
        Block& block = blocks_[b];
        block.part = parts[b];
        std::vector<std::int32_t>& border = block.border;
        auto const later = [&](std::int32_t row) {
            if (row >= block.part.last) border.push_back(row);
        };
        std::for_each(inner + outer[block.part.first], inner + outer[block.part.last], later);
        for (std::int32_t child : {block.part.left, block.part.right})
            if (child >= 0) {
                auto const& rows = blocks_[static_cast<std::size_t>(child)].border;
                std::for_each(rows.begin(), rows.end(), later);
            }
        std::sort(border.begin(), border.end());
        border.erase(std::unique(border.begin(), border.end()), border.end());
        for (std::int32_t u = block.part.first; u < block.part.last; ++u)
            place[static_cast<std::size_t>(u)] = u - block.part.first;
        for (std::size_t i = 0; i < border.size(); ++i)
            place[static_cast<std::size_t>(border[i])] = block.own() + static_cast<std::int32_t>(i);
        for (std::int32_t e = outer[block.part.first]; e < outer[block.part.last]; ++e)
            row_in_block_[static_cast<std::size_t>(e)] = place[static_cast<std::size_t>(inner[e])];
        auto const places = [&](std::int32_t child, std::vector<std::int32_t>& where) {
            if (child < 0) return;
            for (std::int32_t row : blocks_[static_cast<std::size_t>(child)].border)
                where.push_back(place[static_cast<std::size_t>(row)]);
        };
        places(block.part.left, block.left);
        places(block.part.right, block.right);
        block.panel = stored;
        stored += static_cast<std::size_t>(block.height()) * static_cast<std::size_t>(block.own());
    }
    panels_.resize(stored);
}

bool BlockCholesky::factorize(Matrix const& lower) {
    MatrixXd remainder;
    return eliminate(static_cast<int>(blocks_.size()) - 1, lower, remainder);
}

void BlockCholesky::gather(Block const& block, Matrix const& lower, MatrixXd& front) const {
    std::int32_t const* const outer = lower.outerIndexPtr();
    double const* const value = lower.valuePtr();
    for (int j = 0; j < block.own(); ++j) {
        double* const column = &front(0, j);
        for (std::int32_t e = outer[block.part.first + j]; e < outer[block.part.first + j + 1]; ++e)
            column[row_in_block_[static_cast<std::size_t>(e)]] += value[e];
    }
}

bool BlockCholesky::eliminate(int index, Matrix const& lower, MatrixXd& remainder) {
    Block const& block = blocks_[static_cast<std::size_t>(index)];
    MatrixXd left, right;
    bool left_done = true, right_done = true;
    auto const do_left = [&] { left_done = block.part.left < 0 || eliminate(block.part.left, lower, left); };
    auto const do_right = [&] { right_done = block.part.right < 0 || eliminate(block.part.right, lower, right); };
    if (block.part.last > kSideBySide)
        oneapi::tbb::parallel_invoke(do_left, do_right);
    else
        do_left(), do_right();
    if (!left_done || !right_done) return false;

    int const own = block.own(), border = static_cast<int>(block.border.size());
    MatrixXd front = MatrixXd::Zero(own + border, own + border);
    gather(block, lower, front);
    if (block.part.left >= 0) add_remainder(front, left, block.left);
    if (block.part.right >= 0) add_remainder(front, right, block.right);
    if (own > 0) {
        auto top = front.topLeftCorner(own, own);
        if (Eigen::internal::llt_inplace<double, Eigen::Lower>::blocked(top) >= 0) return false;
        if (border > 0) {
            auto below = front.bottomLeftCorner(border, own);
            top.triangularView<Eigen::Lower>().transpose().solveInPlace<Eigen::OnTheRight>(below);
            front.bottomRightCorner(border, border).selfadjointView<Eigen::Lower>().rankUpdate(below, -1);
        }
        Panel(&panels_[block.panel], block.height(), own) = front.leftCols(own);
    }
    remainder = front.bottomRightCorner(border, border);
    return true;
}

VectorXd BlockCholesky::solve(VectorXd const& right_side) const {
    VectorXd x = right_side, at_border;
    for (Block const& block : blocks_) {
        int const own = block.own(), border = block.height() - own;
        if (own == 0) continue;
        ConstPanel const panel(&panels_[block.panel], block.height(), own);
        auto here = x.segment(block.part.first, own);
        panel.topRows(own).triangularView<Eigen::Lower>().solveInPlace(here);
        at_border.noalias() = panel.bottomRows(border) * here;
        for (int i = 0; i < border; ++i) x[block.border[static_cast<std::size_t>(i)]] -= at_border[i];
    }
    for (std::size_t b = blocks_.size(); b-- > 0;) {
        Block const& block = blocks_[b];
        int const own = block.own(), border = block.height() - own;
        if (own == 0) continue;
        ConstPanel const panel(&panels_[block.panel], block.height(), own);
        at_border.resize(border);
        for (int i = 0; i < border; ++i) at_border[i] = x[block.border[static_cast<std::size_t>(i)]];
        auto here = x.segment(block.part.first, own);
        here.noalias() -= panel.bottomRows(border).transpose() * at_border;
        panel.topRows(own).transpose().triangularView<Eigen::Upper>().solveInPlace(here);
    }
    return x;
}

} // namespace leafwright
