// Instances of bare numbers; those with words are CSV.
#include "kerfwright/cutting/instance.h"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <fmt/format.h>

#include "instance_csv.h"

namespace kw {
namespace {

constexpr std::int64_t most_count = 1'000'000;
constexpr std::size_t most_numbers = 100'000;

struct Number {
  std::int64_t value = 0;
  Span at = {};
};
using Line = std::vector<Number>;

Diagnostic fault(std::string_view code, Span at, std::string message, std::string hint) {
  return {.code = code, .at = at, .message = std::move(message), .hint = std::move(hint)};
}

bool is_blank(char c) {
  return c == ' ' || c == '\t' || c == '\r';
}

Outcome<std::vector<Line>> lines_of(const std::string& s) {
  std::vector<Line> lines;
  std::size_t numbers = 0;
  for (std::size_t i = 0; i < s.size(); ++i) {
    Line line;
    while (i < s.size() && s[i] != '\n') {
      if (is_blank(s[i])) {
        ++i;
        continue;
      }
      const std::size_t begin = i;
      while (i < s.size() && s[i] != '\n' && !is_blank(s[i])) ++i;
      const Span at{static_cast<std::uint32_t>(begin), static_cast<std::uint32_t>(i)};
      Number number{0, at};
      const auto [end, error] = std::from_chars(s.data() + begin, s.data() + i, number.value);
      if (error != std::errc() || end != s.data() + i) {
        return fault("solve.not-a-number", at,
                     fmt::format("`{}` is no whole number",
                                 s.substr(begin, std::min<std::size_t>(i - begin, 40))),
                     "a file of this layout holds whole numbers only");
      }
      if (++numbers > most_numbers) {
        return fault("solve.too-many", at, "there are more than 100,000 numbers",
                     "check that it is the file you mean");
      }
      line.push_back(number);
    }
    if (!line.empty()) lines.push_back(std::move(line));
  }
  return lines;
}

// The lines one after another; the first that is not as it must be ends the reading.
class Reader {
 public:
  Reader(const std::vector<Line>& lines, std::size_t size) : lines_(lines), size_(size) {}

  // A line of so many numbers, or none once something was wrong.
  const Line* next(std::size_t count, std::string_view what) {
    if (!faults.empty()) return nullptr;
    if (at_ >= lines_.size()) {
      const auto end = static_cast<std::uint32_t>(size_);
      faults.push_back(fault("solve.too-few", {end, end},
                             fmt::format("the file ends where {} should stand", what),
                             "check the counts of kinds and stocks"));
      return nullptr;
    }
    const Line& line = lines_[at_++];
    if (line.size() == count) return &line;
    faults.push_back(
        fault(line.size() < count ? "solve.too-few" : "solve.too-many",
              {line.front().at.begin, line.back().at.end},
              fmt::format("here {} should stand: {} numbers, not {}", what, count, line.size()),
              "docs/sawing.md has the layouts"));
    return nullptr;
  }

  int count(const Number& number, std::string_view what) {
    if (number.value >= 0 && number.value <= most_count) return static_cast<int>(number.value);
    faults.push_back(fault("solve.too-many", number.at,
                           fmt::format("{} is no count of {}", number.value, what),
                           fmt::format("it has to be 0 to {}", most_count)));
    return 0;
  }

  void end() {
    if (!faults.empty() || at_ >= lines_.size()) return;
    faults.push_back(fault("solve.too-many", lines_[at_].front().at,
                           "there is more than was announced",
                           "check the counts of kinds and stocks"));
  }

  Diagnostics faults = {};

 private:
  const std::vector<Line>& lines_;
  std::size_t at_ = 0, size_ = 0;
};

std::optional<int> copies_of(Reader& reader, const Number& number) {
  if (number.value == -1) return std::nullopt;
  return reader.count(number, "copies");
}

void read_parts(Reader& reader, Problem& problem, int kinds) {
  for (int k = 0; k < kinds; ++k) {
    const Line* line = reader.next(2, "the length and the count of a part");
    if (line == nullptr) return;
    problem.demands.push_back({.name = fmt::format("{}", k + 1),
                               .length = Length::ticks((*line)[0].value),
                               .count = reader.count((*line)[1], "parts")});
  }
}

Problem one_stock(Reader& reader) {
  Problem problem;
  const Line* kinds = reader.next(1, "how many kinds of part there are");
  const Line* length = reader.next(1, "the length of the stock");
  if (kinds == nullptr || length == nullptr) return problem;
  problem.stocks.push_back(
      {.name = "1", .length = Length::ticks((*length)[0].value), .price = {1}});
  read_parts(reader, problem, reader.count((*kinds)[0], "kinds"));
  return problem;
}

Problem many_stocks(Reader& reader) {
  Problem problem;
  const Line* head = reader.next(1, "how many stocks there are");
  const int stocks = head == nullptr ? 0 : reader.count((*head)[0], "stocks");
  for (int s = 0; s < stocks; ++s) {
    const Line* line = reader.next(3, "the length, price and copies of a stock");
    if (line == nullptr) return problem;
    problem.stocks.push_back({.name = fmt::format("{}", s + 1),
                              .length = Length::ticks((*line)[0].value),
                              .price = {(*line)[1].value},
                              .count = copies_of(reader, (*line)[2])});
  }
  const Line* kinds = reader.next(1, "how many kinds of part there are");
  if (kinds != nullptr) read_parts(reader, problem, reader.count((*kinds)[0], "kinds"));
  return problem;
}

// No more of a part than its area allows on the largest sheet.
int most_on_a_sheet(const SheetProblem& problem, Length length, Length width) {
  std::int64_t most = 0;
  for (const SheetStock& s : problem.sheets) {
    if (length <= Length() || width <= Length()) break;
    const double fits =
        static_cast<double>(s.length.in_ticks()) / static_cast<double>(length.in_ticks()) *
        (static_cast<double>(s.width.in_ticks()) / static_cast<double>(width.in_ticks()));
    most = std::max(most, static_cast<std::int64_t>(std::min(fits, 10'000.0)));
  }
  return static_cast<int>(most);
}

SheetProblem sheets(Reader& reader) {
  SheetProblem problem;
  const Line* head = reader.next(1, "how many sheets there are");
  const int count = head == nullptr ? 0 : reader.count((*head)[0], "sheets");
  for (int s = 0; s < count; ++s) {
    const Line* line = reader.next(3, "the length, width and copies of a sheet");
    if (line == nullptr) return problem;
    problem.sheets.push_back({.name = fmt::format("{}", s + 1),
                              .length = Length::ticks((*line)[0].value),
                              .width = Length::ticks((*line)[1].value),
                              .price = {1},
                              .count = copies_of(reader, (*line)[2])});
  }
  const Line* second = reader.next(1, "how many kinds of part there are");
  const int kinds = second == nullptr ? 0 : reader.count((*second)[0], "kinds");
  for (int k = 0; k < kinds; ++k) {
    const Line* line = reader.next(4, "the length, width, count and worth of a part");
    if (line == nullptr) return problem;
    SheetPart part{.name = fmt::format("{}", k + 1),
                   .length = Length::ticks((*line)[0].value),
                   .width = Length::ticks((*line)[1].value),
                   .count = reader.count((*line)[2], "parts"),
                   .worth = (*line)[3].value};
    if (part.count == 0) part.count = most_on_a_sheet(problem, part.length, part.width);
    if (part.worth != 0) problem.aim = SheetAim::most_worth;
    problem.parts.push_back(std::move(part));
  }
  return problem;
}

template <class P>
Outcome<Instance> instance_of(Reader& reader, P problem) {
  reader.end();
  if (!reader.faults.empty()) return std::move(reader.faults);
  return Instance{std::move(problem), true};
}

bool has_words(const std::string& s) {
  return std::any_of(s.begin(), s.end(),
                     [](char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; });
}

}  // namespace

Outcome<Instance> read_instance(const Text& text) {
  if (has_words(text.content)) return cutting::read_csv_instance(text);
  Diagnostics faults;
  const auto lines = keep(lines_of(text.content), faults);
  if (!lines) return faults;
  Reader reader(*lines, text.content.size());
  if (lines->size() >= 2 && (*lines)[1].size() == 1) return instance_of(reader, one_stock(reader));
  if (lines->size() >= 2 && (*lines)[1].size() == 3) {
    if (lines->back().size() == 4) return instance_of(reader, sheets(reader));
    return instance_of(reader, many_stocks(reader));
  }
  return fault("solve.no-shape", {}, "this is none of the layouts of problems",
               "docs/sawing.md has them");
}

}  // namespace kw
