// What a function returns when the maker's input may be at fault: the value, or one Problem.
// Faults of our own are assertions, never Problems.
#pragma once

#include <cassert>
#include <optional>
#include <string>
#include <utility>
#include <variant>

namespace leafwright {

// How the program as a whole answers to a Problem of this kind (the exit status of a command).
enum class ProblemKind {
    refusal, // the input is well formed, but the piece cannot be made as asked: exit status 1
    input,   // unreadable, ill-formed or out of range: exit status 2
};

// One fault, told in one sentence each: where it is, what it is, and what to do about it.
struct Problem {
    std::string code;  // stable, for tests: "range", "syntax", "slab.too-wide"
    std::string where; // a JSON path ("slab.thickness_mm"), a line, or a file part; may be empty
    std::string what;  // a sentence without the closing full stop: "is 80 mm; the range is 2 to 40 mm"
    std::string hint;  // what to do, a sentence without the closing full stop
    ProblemKind kind = ProblemKind::input;

    // "WHERE: WHAT. HINT." with the parts that are there.
    std::string sentence() const;
    bool operator==(Problem const&) const = default;
};

// A T or a Problem. Ask ok() first; value() of a Problem is a fault of ours.
template <class T> class [[nodiscard]] Outcome {
public:
    Outcome(T value) : state_(std::in_place_index<0>, std::move(value)) {}
    Outcome(Problem problem) : state_(std::in_place_index<1>, std::move(problem)) {}

    bool ok() const { return state_.index() == 0; }
    explicit operator bool() const { return ok(); }

    T const& value() const& {
        assert(ok());
        return *std::get_if<0>(&state_);
    }
    T& value() & {
        assert(ok());
        return *std::get_if<0>(&state_);
    }
    T&& value() && {
        assert(ok());
        return std::move(*std::get_if<0>(&state_));
    }
    T const& operator*() const& { return value(); }
    T& operator*() & { return value(); }
    T const* operator->() const { return &value(); }
    T* operator->() { return &value(); }

    Problem const& problem() const {
        assert(!ok());
        return *std::get_if<1>(&state_);
    }

private:
    std::variant<T, Problem> state_;
};

// For functions that give nothing back but may fail: empty when all went well.
using MaybeProblem = std::optional<Problem>;

} // namespace leafwright
