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
    for (std::size_t k = 0; k < seeds.size(); ++k) tasks_.push_back(std::make_shared<Task>());
    worker_ = std::jthread([this, tasks = tasks_, piece, seeds = std::move(seeds)] {
        Planner planner;
        for (std::size_t k = 0; k < seeds.size(); ++k) {
            Proposal proposal = make(piece, seeds[k], planner, *tasks[k]);
            if (tasks[k]->cancelled()) return;
            {
                std::lock_guard const lock(mutex_);
                made_.push_back(std::move(proposal));
            }
            wake_();
        }
    });
}

void ProposalMaker::cancel() {
    for (auto const& task : tasks_) task->cancel();
    if (worker_.joinable()) worker_.join();
    tasks_.clear();
    std::lock_guard const lock(mutex_);
    made_.clear();
}

std::vector<ProposalMaker::Proposal> ProposalMaker::take() {
    std::lock_guard const lock(mutex_);
    return std::exchange(made_, {});
}

} // namespace leafwright
