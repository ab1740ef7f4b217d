#include "bench/proposal_maker.h"

namespace leafwright {
namespace {

ProposalMaker::Proposal make(Piece piece, std::uint64_t seed, Planner& planner, Task& task) {
    piece.seed = seed;
    auto rows = lay_piece(piece, task);
    if (!rows) return {seed, nullptr, {rows.problem()}};
    auto plan = planner.plan(rows->piece);
    if (!plan) return {seed, nullptr, {plan.problem()}};
    return {seed, *plan, rows->result.remarks};
}

} // namespace

ProposalMaker::ProposalMaker(std::function<void()> wake) : wake_(std::move(wake)) {}

ProposalMaker::~ProposalMaker() { cancel(); }

void ProposalMaker::start(Piece const& piece, std::vector<std::uint64_t> seeds) {
    cancel();
    task_ = std::make_shared<Task>();
    worker_ = std::jthread([this, task = task_, piece, seeds = std::move(seeds)] {
        Planner planner;
        for (std::uint64_t const seed : seeds) {
            Proposal proposal = make(piece, seed, planner, *task);
            if (task->cancelled()) return;
            {
                std::lock_guard const lock(mutex_);
                made_.push_back(std::move(proposal));
            }
            wake_();
        }
    });
}

void ProposalMaker::cancel() {
    if (task_) task_->cancel();
    if (worker_.joinable()) worker_.join();
    task_.reset();
    std::lock_guard const lock(mutex_);
    made_.clear();
}

std::vector<ProposalMaker::Proposal> ProposalMaker::take() {
    std::lock_guard const lock(mutex_);
    return std::exchange(made_, {});
}

} // namespace leafwright
