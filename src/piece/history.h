// Undo and redo: a list of whole pieces with labels. One gesture is one entry: a drag previews freely and commits once.
#pragma once

#include "piece/commands.h"

#include <memory>

namespace leafwright {

class History {
public:
    explicit History(Piece piece);

    Piece const& now() const;
    // The piece as the hand holds it: now() until preview() is called.
    Piece const& shown() const;

    // Adds an entry. A command that changes nothing adds none.
    void commit(Command const& command);
    // Shows what the command would do, from now(); replaced by the next preview, dropped by drop_preview().
    void preview(Command const& command);
    void drop_preview();
    bool previews() const { return preview_ != nullptr; }
    // Makes the preview an entry (one gesture, one entry). Nothing without a preview.
    void commit_preview();

    bool can_undo() const;
    bool can_redo() const;
    std::string undo_label() const; // "" when there is none
    std::string redo_label() const;
    void undo();
    void redo();

    // A number that grows whenever shown() changes; equal numbers mean the same piece.
    std::uint64_t revision() const;
    // Whether now() differs from the piece last marked as saved.
    bool changed_since_save() const;
    void mark_saved();

private:
    struct Entry {
        std::shared_ptr<Piece const> piece;
        std::string label;
    };
    std::vector<Entry> entries_;
    std::size_t at_ = 0;
    std::shared_ptr<Piece const> preview_;
    std::string preview_label_;
    std::shared_ptr<Piece const> saved_;
    std::uint64_t revision_ = 1;
};

} // namespace leafwright
