// JSON as we write it: members in the order in which they are added, two-space indent, short lists and objects on one
// line, numbers as short as gives the same double back.
#pragma once

#include "base/figure.h"

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace leafwright {

class JsonText {
public:
    static JsonText number(double value); // must be finite
    static JsonText whole(std::int64_t value);
    static JsonText natural(std::uint64_t value);
    static JsonText flag(bool value);
    static JsonText text(std::string_view value); // bytes that are not UTF-8 become U+FFFD
    static JsonText null();
    static JsonText list() { return JsonText('['); }
    static JsonText object() { return JsonText('{'); }
    // Any JSON text laid out anew by these rules; at most 64 levels deep. An empty object when it is not JSON.
    static JsonText parsed(std::string_view text);

    JsonText& add(JsonText item);                       // to a list
    JsonText& add(std::string_view key, JsonText item); // to an object
    bool empty() const { return members_.empty(); }
    // Members of an object, in order.
    std::vector<std::pair<std::string, JsonText>> const& members() const { return members_; }

    // The whole text, with a line end at its end.
    std::string str() const;

private:
    explicit JsonText(char open) : open_(open) {}
    void write(std::string& out, std::size_t indent) const;
    bool write_compact(std::string& out, std::size_t longest) const;

    char open_ = 0;     // '[', '{', or 0 for a plain value
    std::string plain_; // a plain value's text
    std::vector<std::pair<std::string, JsonText>> members_;
};

// {"value", "low", "high", "from": "computed|measured|default"}.
JsonText figure_text(Figure const& figure);

} // namespace leafwright
