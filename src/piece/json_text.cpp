#include "piece/json_text.h"

#include "base/parse_json.h"

#include <nlohmann/json.hpp>

#include <array>
#include <cassert>
#include <charconv>
#include <cmath>

namespace leafwright {

namespace {

constexpr std::size_t kLineWidth = 118;

template <class Number> std::string shortest(Number value) {
    std::array<char, 40> room{};
    auto const end = std::to_chars(room.data(), room.data() + room.size(), value).ptr;
    return {room.data(), end};
}

std::string in_quotes(std::string_view text) {
    return nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

JsonText laid_out(nlohmann::json const& value) {
    if (value.is_object()) {
        JsonText object = JsonText::object();
        for (auto const& [key, item] : value.items()) object.add(key, laid_out(item));
        return object;
    }
    if (value.is_array()) {
        JsonText list = JsonText::list();
        for (auto const& item : value) list.add(laid_out(item));
        return list;
    }
    if (value.is_string()) return JsonText::text(value.get_ref<std::string const&>());
    if (value.is_boolean()) return JsonText::flag(value.get<bool>());
    if (value.is_number_unsigned()) return JsonText::natural(value.get<std::uint64_t>());
    if (value.is_number_integer()) return JsonText::whole(value.get<std::int64_t>());
    if (value.is_number()) return JsonText::number(value.get<double>());
    return JsonText::null();
}

} // namespace

JsonText JsonText::number(double value) {
    assert(std::isfinite(value));
    JsonText node{char{0}};
    // Without the point the sign of -0 would be lost on the way back: "-0" is a whole number to a parser.
    node.plain_ = value == 0 && std::signbit(value) ? "-0.0" : shortest(value);
    return node;
}

JsonText JsonText::whole(std::int64_t value) {
    JsonText node{char{0}};
    node.plain_ = shortest(value);
    return node;
}

JsonText JsonText::natural(std::uint64_t value) {
    JsonText node{char{0}};
    node.plain_ = shortest(value);
    return node;
}

JsonText JsonText::flag(bool value) {
    JsonText node{char{0}};
    node.plain_ = value ? "true" : "false";
    return node;
}

JsonText JsonText::text(std::string_view value) {
    JsonText node{char{0}};
    node.plain_ = in_quotes(value);
    return node;
}

JsonText JsonText::null() {
    JsonText node{char{0}};
    node.plain_ = "null";
    return node;
}

JsonText JsonText::parsed(std::string_view text) {
    auto const value = parse_json(text);
    return value.is_discarded() ? object() : laid_out(value);
}

JsonText& JsonText::add(JsonText item) {
    assert(open_ == '[');
    members_.emplace_back(std::string(), std::move(item));
    return *this;
}

JsonText& JsonText::add(std::string_view key, JsonText item) {
    assert(open_ == '{');
    members_.emplace_back(std::string(key), std::move(item));
    return *this;
}

JsonText figure_text(Figure const& figure) {
    static constexpr std::array<char const*, 3> kFrom = {"computed", "measured", "default"};
    JsonText text = JsonText::object();
    text.add("value", JsonText::number(figure.value)).add("low", JsonText::number(figure.low));
    text.add("high", JsonText::number(figure.high));
    text.add("from", JsonText::text(kFrom[static_cast<std::size_t>(figure.from)]));
    return text;
}

std::string JsonText::str() const {
    std::string out;
    write(out, 0);
    out += '\n';
    return out;
}

// False, with out in any state, when the text would pass `longest`: large nodes are given up early.
bool JsonText::write_compact(std::string& out, std::size_t longest) const {
    if (open_ == 0) {
        out += plain_;
        return out.size() <= longest;
    }
    out += open_;
    bool first = true;
    for (auto const& [key, item] : members_) {
        if (!first) out += ", ";
        first = false;
        if (open_ == '{') out += in_quotes(key) + ": ";
        if (out.size() > longest || !item.write_compact(out, longest)) return false;
    }
    out += open_ == '[' ? ']' : '}';
    return out.size() <= longest;
}

void JsonText::write(std::string& out, std::size_t indent) const {
    std::size_t const line_start = out.rfind('\n') + 1; // npos + 1 is 0: the first line
    std::size_t const room = line_start + kLineWidth;
    std::size_t const was = out.size();
    if (open_ == 0) {
        out += plain_;
        return;
    }
    if (write_compact(out, room)) return;
    out.resize(was);
    out += open_;
    bool first = true;
    for (auto const& [key, item] : members_) {
        if (!first) out += ',';
        first = false;
        out += '\n';
        out.append(indent + 2, ' ');
        if (open_ == '{') out += in_quotes(key) + ": ";
        item.write(out, indent + 2);
    }
    out += '\n';
    out.append(indent, ' ');
    out += open_ == '[' ? ']' : '}';
}

} // namespace leafwright
