// Outcome<T>: a value or the reasons why not. Reading<T>: a value and everything wrong with it.
#pragma once

#include <cassert>
#include <optional>
#include <utility>

#include "kerfwright/diag/diagnostic.h"

// A broken invariant of ours; nothing a user writes may reach it.
#define KW_ASSERT(condition) assert(condition)

namespace kw {

// For leaves: either a value (then diagnostics hold warnings at most) or at least one error.
template <class T>
class [[nodiscard]] Outcome {
 public:
  Outcome(T value) : value_(std::move(value)) {}  // NOLINT(google-explicit-constructor): by design
  Outcome(T value, Diagnostics warnings)
      : value_(std::move(value)), diagnostics_(std::move(warnings)) {
    KW_ASSERT(!has_errors(diagnostics_));
  }
  Outcome(Diagnostic why) { diagnostics_.push_back(std::move(why)); }  // NOLINT: as above
  Outcome(Diagnostics why) : diagnostics_(std::move(why)) {            // NOLINT: as above
    KW_ASSERT(!diagnostics_.empty());
  }

  [[nodiscard]] explicit operator bool() const { return value_.has_value(); }
  [[nodiscard]] const T& operator*() const& { return *value_; }
  [[nodiscard]] T& operator*() & { return *value_; }
  [[nodiscard]] T&& operator*() && { return *std::move(value_); }
  [[nodiscard]] const T* operator->() const { return &*value_; }
  [[nodiscard]] T* operator->() { return &*value_; }
  [[nodiscard]] const Diagnostics& diagnostics() const { return diagnostics_; }

 private:
  std::optional<T> value_ = {};
  Diagnostics diagnostics_ = {};
};

// For whole-document passes: always a value, as far as it was understood.
template <class T>
struct [[nodiscard]] Reading {
  T value = {};
  Diagnostics diagnostics = {};
};

// Moves the value out of a Reading and files its diagnostics at the end of `into`.
template <class T>
[[nodiscard]] T keep(Reading<T> reading, Diagnostics& into) {
  for (auto& d : reading.diagnostics) into.push_back(std::move(d));
  return std::move(reading.value);
}

// The value of an Outcome, or nothing; its diagnostics are filed at the end of `into` either way.
template <class T>
[[nodiscard]] std::optional<T> keep(Outcome<T> outcome, Diagnostics& into) {
  for (const auto& d : outcome.diagnostics()) into.push_back(d);
  if (!outcome) return std::nullopt;
  return *std::move(outcome);
}

}  // namespace kw
