#include "kerfwright/trade/journal.h"

#include <algorithm>
#include <fmt/format.h>

namespace kw::trade {
namespace {

// Why entry `at` (an index) does not hold; its number goes into a note.
Diagnostics with_number(Diagnostics why, std::size_t at, const Entry& entry) {
  why.front().notes.push_back({{}, words_for(static_cast<int>(at) + 1, entry)});
  return why;
}

// What stands once those entries that stand are applied.
Outcome<Books> books_of(const std::vector<Entry>& entries) {
  const std::vector<bool> stands = standing_of(entries);
  Books books;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    if (!stands[i]) {
      pass_over(books, entries[i]);
      continue;
    }
    const auto lines = apply(books, entries[i]);
    if (!lines) return with_number(lines.diagnostics(), i, entries[i]);
  }
  return books;
}

std::vector<Line> difference_of(const Books& before, const Books& after) {
  std::map<Account, Money> moved = after.balances;
  for (const auto& [account, amount] : before.balances) moved[account] = moved[account] - amount;
  std::vector<Line> lines;
  for (const auto& [account, amount] : moved)
    if (amount != Money()) lines.push_back({account, amount});
  return lines;
}

std::optional<Diagnostic> why_not_undone(const std::vector<Entry>& entries, int number) {
  const bool is_there = number >= 1 && number <= static_cast<int>(entries.size());
  if (is_there && standing_of(entries)[static_cast<std::size_t>(number) - 1]) return std::nullopt;
  return Diagnostic{.code = "trade.cannot-undo",
                    .message = is_there ? fmt::format("entry {} is undone already", number)
                                        : fmt::format("there is no entry {}", number)};
}

Outcome<std::vector<Line>> undo(Journal& journal, Entry entry) {
  const int number = std::get<Undone>(entry.event).entry;
  if (auto why = why_not_undone(journal.entries, number)) return std::move(*why);
  const std::string what = words_for(number, journal.entries[static_cast<std::size_t>(number) - 1]);
  journal.entries.push_back(std::move(entry));
  auto books = books_of(journal.entries);
  if (!books) {
    journal.entries.pop_back();
    Diagnostic needed = books.diagnostics().front();
    return Diagnostic{
        .code = "trade.still-needed",
        .message = fmt::format("{} cannot be undone: without it {} would not hold: {}", what,
                               needed.notes.back().message, needed.message),
        .notes = needed.notes,
        .hint = "undo the later one first"};
  }
  auto lines = difference_of(journal.books, *books);
  journal.books = *std::move(books);
  return lines;
}

}  // namespace

Outcome<std::vector<Line>> enter(Journal& journal, Entry entry) {
  if (std::holds_alternative<Undone>(entry.event)) return undo(journal, std::move(entry));
  auto lines = apply(journal.books, entry);
  if (lines) journal.entries.push_back(std::move(entry));
  return lines;
}

Outcome<Journal> replay(std::vector<Entry> entries) {
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const auto* undone = std::get_if<Undone>(&entries[i].event);
    if (undone == nullptr || (undone->entry >= 1 && undone->entry <= static_cast<int>(i))) continue;
    return with_number({{.code = "trade.cannot-undo",
                         .message = fmt::format("there is no entry {} before", undone->entry)}},
                       i, entries[i]);
  }
  auto books = books_of(entries);
  if (!books) return books.diagnostics();
  return Journal{std::move(entries), *std::move(books)};
}

std::vector<bool> standing_of(const std::vector<Entry>& entries) {
  std::vector<bool> stands(entries.size(), true);
  for (std::size_t i = entries.size(); i-- > 0;) {
    const auto* undone = std::get_if<Undone>(&entries[i].event);
    if (undone != nullptr && stands[i] && undone->entry >= 1 &&
        undone->entry <= static_cast<int>(i))
      stands[static_cast<std::size_t>(undone->entry) - 1] = false;
  }
  return stands;
}

std::string words_for(int number, const Entry& entry) {
  std::string what(name_of(entry.event));
  std::replace(what.begin(), what.end(), '-', ' ');
  return fmt::format("entry {} ({}, {})", number, what, format_day(entry.day));
}

}  // namespace kw::trade
