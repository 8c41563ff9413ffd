// Places in a text as editors on a web page count them: in UTF-16 code units.
//
// A byte that belongs to no UTF-8 character counts as one unit, as a page shows it.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

namespace kw {

// Goes through a text once, however many places are asked for: a unit's place is kept every so
// often. The text must outlive it.
class Utf16Index {
 public:
  explicit Utf16Index(std::string_view text);
  // Units before byte `offset`; past the end: all. Within a character: those before it.
  [[nodiscard]] std::uint32_t units_at(std::uint32_t offset) const;
  // The byte where unit `units` begins, clamped to the text's end; the second half of a character
  // that takes two units is the character's own begin.
  [[nodiscard]] std::uint32_t byte_at(std::uint32_t units) const;
  [[nodiscard]] std::uint32_t size() const { return size_; }

 private:
  struct Mark {
    std::uint32_t byte = 0, units = 0;
  };
  std::string_view text_;
  std::vector<Mark> marks_ = {};
  std::uint32_t size_ = 0;
};

}  // namespace kw
