// Sparse Cholesky factors by dense blocks (multifrontal; Duff and Reid, ACM Trans. Math. Softw. 9 (1983) 302): one
// dense block for each part of an elimination tree, eliminated as a whole and its remainder handed to the parent.
#pragma once

#include <Eigen/SparseCore>
#include <memory>
#include <vector>

namespace leafwright {

class BlockCholesky {
public:
    using Matrix = Eigen::SparseMatrix<double, Eigen::ColMajor, std::int32_t>;

    // Unknowns `first` to `last` - 1 are eliminated together, after both children.
    struct Part {
        std::int32_t first = 0, last = 0, left = -1, right = -1;
    };

    // `lower`: the pattern (lower half, diagonal included); all that is factored must have it. Parts stand children
    // before parents, the last is the root; unknowns of two children never meet in an entry.
    void analyse(Matrix const& lower, std::vector<Part> const& parts);
    // False when the matrix is not positive definite. The same factor on any number of threads.
    bool factorize(Matrix const& lower);
    Eigen::VectorXd solve(Eigen::VectorXd const& right_side) const;

private:
    struct Block {
        Part part;
        std::vector<std::int32_t> border;      // later unknowns that it meets, ascending
        std::vector<std::int32_t> left, right; // where the children's borders lie in this block
        std::size_t panel = 0;                 // (own + border) x own, column by column
        int own() const { return part.last - part.first; }
        int height() const { return own() + static_cast<int>(border.size()); }
    };
    bool eliminate(int block, Matrix const& lower, Eigen::MatrixXd& remainder);
    void gather(Block const& block, Matrix const& lower, Eigen::MatrixXd& front) const;

    std::vector<Block> blocks_;
    std::vector<std::int32_t> row_in_block_; // by entry of the matrix
    std::vector<double> panels_;
};

} // namespace leafwright
