// One row of a table while it is being read: each key is asked for by its type, and what is wrong
// is noted in the page. A row with any fault is not sound and is left out of the catalogue.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "kerfwright/lumber/catalogue.h"

#include "table.h"

namespace kw::lumber {

using NamedTexts = std::map<std::string, std::string, std::less<>>;

struct LengthList {
  std::vector<Length> lengths = {};
  std::string source = {};
};

// The file being read, its named texts and lists, and its faults so far.
class Page {
 public:
  Page(const Text& text, Diagnostics& faults) : text_(text), faults_(faults) {}

  // Adds an error that names the file and the line. Only the first 100 of a file are kept.
  void fault(std::string_view code, Span at, std::string_view message, std::string hint);
  [[nodiscard]] std::size_t fault_count() const { return count_; }
  [[nodiscard]] bool is_full() const;  // further faults are counted, not kept
  [[nodiscard]] const Text& text() const { return text_; }

  NamedTexts sources = {};
  NamedTexts cautions = {};
  std::map<std::string, LengthList, std::less<>> lists = {};

 private:
  const Text& text_;
  Diagnostics& faults_;
  std::size_t count_ = 0;
};

// From the least to the most.
struct Range {
  double least = 0;
  double most = 0;
};

// A word of the format and what it stands for.
template <class T>
struct Choice {
  std::string_view word = {};
  T means = {};
};

class Row {
 public:
  // Faults: a cell that is no table; keys that are not among `keys`.
  Row(const Cell& cell, Page& page, const std::vector<std::string>& keys);

  [[nodiscard]] bool is_sound() const { return page_.fault_count() == faults_before_; }
  [[nodiscard]] bool has(std::string_view key) const { return find_cell(cell_, key) != nullptr; }

  // Required; faults give an empty value.
  [[nodiscard]] std::string text(std::string_view key);
  [[nodiscard]] Length length(std::string_view key);
  [[nodiscard]] double number(std::string_view key, Range range);
  [[nodiscard]] int count(std::string_view key, int most);  // a whole number from 1
  [[nodiscard]] Section section(std::string_view key);
  [[nodiscard]] std::vector<Length> lengths(std::string_view key);
  // What the row's `key` names in [source].
  [[nodiscard]] std::string source(std::string_view key = "source");

  // Optional: empty or zero when the key is absent.
  [[nodiscard]] std::vector<std::string> texts_or_none(std::string_view key);
  [[nodiscard]] Length length_or_zero(std::string_view key);
  [[nodiscard]] std::optional<double> number_or_none(std::string_view key, Range range);
  [[nodiscard]] std::optional<Range> bounds_or_none(std::string_view key, Range range);
  [[nodiscard]] std::optional<Section> section_or_none(std::string_view key);
  [[nodiscard]] std::optional<Row> table_or_none(std::string_view key,
                                                 const std::vector<std::string>& keys);

  template <class T, std::size_t N>
  [[nodiscard]] T choice(std::string_view key, const Choice<T> (&choices)[N]) {
    std::vector<std::string> words;
    for (const Choice<T>& choice : choices) words.emplace_back(choice.word);
    const std::size_t found = choice_among(key, words);
    return found < N ? choices[found].means : T{};
  }

  // The texts that `key` names in [caution]; the list that `key` names in [lengths], null when
  // absent.
  [[nodiscard]] std::vector<std::string> cautions(std::string_view key);
  [[nodiscard]] const LengthList* list_or_none(std::string_view key);

  // Notes a fault of the value of `key`, or of the row where it has none.
  void refuse(std::string_view key, std::string_view message, std::string hint);

 private:
  [[nodiscard]] const Cell* find(std::string_view key, CellKind kind);
  [[nodiscard]] const Cell* require(std::string_view key, CellKind kind);
  [[nodiscard]] bool is_kind(const Cell& cell, std::string_view key, CellKind kind);
  [[nodiscard]] Length length_of(const Cell& cell, std::string_view key);
  [[nodiscard]] double number_of(const Cell& cell, std::string_view key, Range range);
  [[nodiscard]] bool has_count(const Cell& list, std::string_view key, std::size_t count);
  [[nodiscard]] std::size_t choice_among(std::string_view key,
                                         const std::vector<std::string>& words);
  [[nodiscard]] std::string own_name() const;

  const Cell& cell_;
  Page& page_;
  std::size_t faults_before_ = 0;
};

}  // namespace kw::lumber
