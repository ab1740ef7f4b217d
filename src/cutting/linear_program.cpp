#include "cutting/linear_program.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <limits>

namespace leafwright {

namespace {

using Vector = Eigen::VectorXd;

class InteriorPoint {
public:
    InteriorPoint(int unknowns, int goal, std::vector<LinearRow> const& rows)
        : rows_(rows),
          n_(unknowns),
          m_(static_cast<int>(rows.size())),
          goal_(goal),
          x_(Vector::Zero(unknowns)),
          slack_(m_),
          price_(Vector::Ones(m_)),
          normal_(unknowns, unknowns) {
        Vector const reached = times(x_);
        for (int r = 0; r < m_; ++r) slack_[r] = std::max(reached[r] - bound(r), 0.05);
    }

    LinearAnswer solve() {
        int step = 0;
        for (; step < 40 && !is_done(); ++step)
            if (!advance()) break;
        LinearAnswer answer{{x_.data(), x_.data() + n_}, std::numeric_limits<double>::max(), step};
        Vector const reached = times(x_);
        for (int r = 0; r < m_; ++r) answer.least_slack = std::min(answer.least_slack, reached[r] - bound(r));
        return answer;
    }

private:
    LinearRow const& row(int r) const { return rows_[static_cast<std::size_t>(r)]; }
    double bound(int r) const { return row(r).bound; }

    Vector times(Vector const& x) const {
        Vector out(m_);
        for (int r = 0; r < m_; ++r) {
            LinearRow const& w = row(r);
            double sum = 0;
            for (std::size_t k = 0; k < static_cast<std::size_t>(w.count); ++k) sum += w.value[k] * x[w.at[k]];
            out[r] = sum;
        }
        return out;
    }
    Vector transposed_times(Vector const& y) const {
        Vector out = Vector::Zero(n_);
        for (int r = 0; r < m_; ++r) {
            LinearRow const& w = row(r);
            for (std::size_t k = 0; k < static_cast<std::size_t>(w.count); ++k) out[w.at[k]] += w.value[k] * y[r];
        }
        return out;
    }

    void residuals() {
        primal_ = times(x_) - slack_;
        for (int r = 0; r < m_; ++r) primal_[r] -= bound(r);
        dual_ = -transposed_times(price_);
        dual_[goal_] += 1;
        mu_ = slack_.dot(price_) / m_;
    }

    bool is_done() {
        residuals();
        return mu_ < 1e-13 && primal_.cwiseAbs().maxCoeff() < 1e-12 && dual_.cwiseAbs().maxCoeff() < 1e-8;
    }

    bool factor() {
        normal_.setZero();
        for (int r = 0; r < m_; ++r) {
            LinearRow const& w = row(r);
            double const d = price_[r] / slack_[r];
            for (std::size_t a = 0; a < static_cast<std::size_t>(w.count); ++a)
                for (std::size_t b = 0; b < static_cast<std::size_t>(w.count); ++b)
                    normal_(w.at[a], w.at[b]) += d * w.value[a] * w.value[b];
        }
        for (int k = 0; k < n_; ++k) normal_(k, k) *= 1 + 1e-14;
        cholesky_.compute(normal_);
        return cholesky_.info() == Eigen::Success;
    }

    void direction(Vector const& target, Vector& dx, Vector& ds, Vector& dp) const {
        Vector const right = ((target - price_.cwiseProduct(primal_)).cwiseQuotient(slack_));
        dx = cholesky_.solve(transposed_times(right) - dual_);
        ds = times(dx) + primal_;
        dp = (target - price_.cwiseProduct(ds)).cwiseQuotient(slack_);
    }

    static double longest(Vector const& v, Vector const& dv) {
        double step = 1;
        for (Eigen::Index r = 0; r < v.size(); ++r)
            if (dv[r] < 0) step = std::min(step, -v[r] / dv[r]);
        return step;
    }

    bool advance() {
        if (!factor()) return false;
        Vector dx, ds, dp;
        direction(-slack_.cwiseProduct(price_), dx, ds, dp);
        double const a = longest(slack_, ds), b = longest(price_, dp);
        double const ahead = (slack_ + a * ds).dot(price_ + b * dp) / m_;
        double const sigma = std::pow(std::clamp(ahead / mu_, 0.0, 1.0), 3);
        Vector const target = Vector::Constant(m_, sigma * mu_) - slack_.cwiseProduct(price_) - ds.cwiseProduct(dp);
        direction(target, dx, ds, dp);
        if (!dx.allFinite()) return false;
        double const keep = std::max(0.9, 1 - 10 * mu_);
        double const step_p = std::min(1.0, keep * longest(slack_, ds)),
                     step_d = std::min(1.0, keep * longest(price_, dp));
        x_ += step_p * dx;
        slack_ += step_p * ds;
        price_ += step_d * dp;
        return true;
    }

    std::vector<LinearRow> const& rows_;
    int n_, m_, goal_;
    Vector x_, slack_, price_, primal_, dual_;
    Eigen::MatrixXd normal_;
    Eigen::LLT<Eigen::MatrixXd> cholesky_;
    double mu_ = 0;
};

} // namespace

LinearAnswer minimised(int unknowns, int goal, std::vector<LinearRow> const& rows) {
    return InteriorPoint(unknowns, goal, rows).solve();
}

} // namespace leafwright
