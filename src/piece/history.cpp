#include "piece/history.h"

namespace leafwright {

namespace {

// An hour of steady work; 300 leaves are some 40 KB an entry.
constexpr std::size_t kMostEntries = 1000;

} // namespace

History::History(Piece piece) : saved_(std::make_shared<Piece const>(std::move(piece))) {
    entries_.push_back({saved_, ""});
}

Piece const& History::now() const { return *entries_[at_].piece; }

Piece const& History::shown() const { return preview_ ? *preview_ : now(); }

void History::commit(Command const& command) {
    drop_preview();
    auto changed = std::make_shared<Piece const>(apply(now(), command));
    if (*changed == now()) return;
    entries_.resize(at_ + 1);
    entries_.push_back({std::move(changed), label(command)});
    if (entries_.size() > kMostEntries) entries_.erase(entries_.begin());
    at_ = entries_.size() - 1;
    ++revision_;
}

void History::preview(Command const& command) {
    auto changed = std::make_shared<Piece const>(apply(now(), command));
    bool const differs = *changed != shown();
    preview_ = std::move(changed);
    preview_label_ = label(command);
    if (differs) ++revision_;
}

void History::drop_preview() {
    if (!preview_) return;
    bool const differs = *preview_ != now();
    preview_.reset();
    if (differs) ++revision_;
}

void History::commit_preview() {
    if (!preview_) return;
    std::shared_ptr<Piece const> const kept = std::move(preview_);
    preview_.reset();
    if (*kept == now()) return;
    entries_.resize(at_ + 1);
    entries_.push_back({kept, preview_label_});
    if (entries_.size() > kMostEntries) entries_.erase(entries_.begin());
    at_ = entries_.size() - 1;
}

bool History::can_undo() const { return at_ > 0; }

bool History::can_redo() const { return at_ + 1 < entries_.size(); }

std::string History::undo_label() const { return can_undo() ? entries_[at_].label : ""; }

std::string History::redo_label() const { return can_redo() ? entries_[at_ + 1].label : ""; }

void History::undo() {
    drop_preview();
    if (!can_undo()) return;
    --at_;
    ++revision_;
}

void History::redo() {
    drop_preview();
    if (!can_redo()) return;
    ++at_;
    ++revision_;
}

std::uint64_t History::revision() const { return revision_; }

bool History::changed_since_save() const { return saved_ != entries_[at_].piece && *saved_ != now(); }

void History::mark_saved() { saved_ = entries_[at_].piece; }

} // namespace leafwright
