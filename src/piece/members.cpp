// Copies, moves and ends of the large values of this room, once for all who handle them.
#include "base/once_made_in.h"
#include "piece/commands.h"
#include "piece/plan.h"

namespace leafwright {

Piece::Piece() = default;
Piece::Piece(Piece const& other) = default;
Piece::Piece(Piece&& other) noexcept = default;
Piece& Piece::operator=(Piece const& other) = default;
Piece& Piece::operator=(Piece&& other) noexcept = default;
Piece::~Piece() = default;
bool Piece::operator==(Piece const& other) const = default;

Plan::Plan() = default;
Plan::Plan(Plan const& other) = default;
Plan::Plan(Plan&& other) noexcept = default;
Plan& Plan::operator=(Plan const& other) = default;
Plan& Plan::operator=(Plan&& other) noexcept = default;
Plan::~Plan() = default;

template struct OnceMade<AnyCommand>;

} // namespace leafwright
