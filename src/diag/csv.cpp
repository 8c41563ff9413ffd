#include "kerfwright/diag/csv.h"

namespace kw {
namespace {

constexpr std::size_t most_cells = 100'000;

class Reader {
 public:
  explicit Reader(const Text& text) : s_(text.content) {
    if (s_.starts_with("\xEF\xBB\xBF")) i_ = 3;
    const std::string_view first = s_.substr(0, s_.find('\n'));
    if (first.find(';') != first.npos && first.find(',') == first.npos) comma_ = ';';
  }

  Reading<std::vector<CsvRow>> run() {
    while (i_ < s_.size() && !is_stopped_) read_line();
    return std::move(reading_);
  }

 private:
  [[nodiscard]] bool at_end_of_line() const {
    return i_ >= s_.size() || s_[i_] == '\n' || s_[i_] == '\r';
  }
  void skip_end_of_line() {
    if (i_ < s_.size() && s_[i_] == '\r') ++i_;
    if (i_ < s_.size() && s_[i_] == '\n') ++i_;
  }
  void skip_blanks() {
    while (i_ < s_.size() && (s_[i_] == ' ' || s_[i_] == '\t')) ++i_;
  }

  void read_line() {
    const std::size_t begin = i_;
    if (s_[i_] == '#') {
      while (!at_end_of_line()) ++i_;
      skip_end_of_line();
      return;
    }
    CsvRow row;
    do {
      row.cells.push_back(read_cell());
      if (++cells_ > most_cells) stop();
    } while (!is_stopped_ && i_ < s_.size() && s_[i_] == comma_ && ++i_ > 0);
    row.at = span(begin, i_);
    const bool is_empty = row.cells.size() == 1 && row.cells[0].text.empty();
    if (!is_empty) reading_.value.push_back(std::move(row));
    skip_end_of_line();
  }

  CsvCell read_cell() {
    skip_blanks();
    if (i_ < s_.size() && s_[i_] == '"') return read_quoted();
    const std::size_t begin = i_;
    while (!at_end_of_line() && s_[i_] != comma_) ++i_;
    std::size_t end = i_;
    while (end > begin && (s_[end - 1] == ' ' || s_[end - 1] == '\t')) --end;
    return {std::string(s_.substr(begin, end - begin)), span(begin, end)};
  }

  CsvCell read_quoted() {
    const std::size_t open = i_++;
    CsvCell cell;
    while (i_ < s_.size() && (s_[i_] != '"' || (i_ + 1 < s_.size() && s_[i_ + 1] == '"'))) {
      if (s_[i_] == '"') ++i_;
      cell.text += s_[i_++];
    }
    cell.at = span(open + 1, i_);
    if (i_ >= s_.size()) {
      fault("csv.open-quote", span(open, open + 1), "this quote is never closed",
            "put a quote behind the cell; a quote within it is written twice");
      return cell;
    }
    ++i_;
    skip_blanks();
    const std::size_t after = i_;
    while (!at_end_of_line() && s_[i_] != comma_) ++i_;
    if (i_ > after) {
      fault("csv.after-quote", span(after, i_), "there is something behind the closing quote",
            "put the whole cell between quotes; a quote within it is written twice");
    }
    return cell;
  }

  void stop() {
    is_stopped_ = true;
    fault("csv.too-many", span(i_, i_), "there are more than 100,000 cells",
          "split the file, or check that it is the one you mean");
  }

  void fault(std::string_view code, Span at, std::string message, std::string hint) {
    reading_.diagnostics.push_back(
        {.code = code, .at = at, .message = std::move(message), .hint = std::move(hint)});
  }
  static Span span(std::size_t begin, std::size_t end) {
    return {static_cast<std::uint32_t>(begin), static_cast<std::uint32_t>(end)};
  }

  std::string_view s_;
  std::size_t i_ = 0, cells_ = 0;
  char comma_ = ',';
  bool is_stopped_ = false;
  Reading<std::vector<CsvRow>> reading_ = {};
};

}  // namespace

Reading<std::vector<CsvRow>> read_csv(const Text& text) {
  return Reader(text).run();
}

}  // namespace kw
