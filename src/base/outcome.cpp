#include "base/outcome.h"

namespace leafwright {

std::string Problem::sentence() const {
    std::string text = where.empty() ? what : where + ": " + what;
    text += '.';
    if (!hint.empty()) text += ' ' + hint + '.';
    return text;
}

} // namespace leafwright
