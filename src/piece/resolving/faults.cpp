#include "faults.h"

#include <algorithm>
#include <fmt/format.h>

#include "kerfwright/measure/text.h"

namespace kw::resolving {
namespace {

constexpr std::size_t most_faults = 500;
constexpr std::size_t most_listed = 12;

// Names may be as long as a file. Cut between letters, not within one.
void shorten(std::string& text) {
  constexpr std::size_t longest = 500;
  if (text.size() <= longest) return;
  std::size_t end = longest;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80) --end;
  text.resize(end);
  text += " ...";
}

std::string in_small_letters(std::string_view word) {
  std::string out(word);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

}  // namespace

void Faults::report(Diagnostic fault) {
  if (fault.code.empty() || faults_.size() > most_faults) return;
  const bool has_place = !(fault.at == Span{});
  if (!known_.emplace(fault.code, fault.at.begin, fault.at.end, has_place ? "" : fault.message)
           .second)
    return;
  shorten(fault.message);
  shorten(fault.hint);
  for (Note& note : fault.notes) shorten(note.message);
  if (faults_.size() < most_faults) return faults_.push_back(std::move(fault));
  faults_.push_back(
      {.code = "piece.too-many-faults",
       .at = fault.at,
       .message = fmt::format("more than {} faults: what follows is not told", most_faults),
       .hint = "mend those above and work the piece out again"});
}

void Faults::report(const Diagnostics& faults) {
  for (const Diagnostic& fault : faults) report(fault);
}

bool Faults::is_full() const {
  return faults_.size() > most_faults;
}

std::string Faults::length(double mm) const {
  LengthStyle style{.unit = unit_, .decimals = 2};
  style.finest = 64;
  return format_length(Length::mm(mm), style);
}

Diagnostics Faults::take() && {
  std::stable_sort(faults_.begin(), faults_.end(), [](const Diagnostic& a, const Diagnostic& b) {
    return a.at.begin < b.at.begin;
  });
  return std::move(faults_);
}

std::string hint_for(std::string_view word, const std::vector<std::string>& known,
                     std::string_view what) {
  const std::string nearest = nearest_name(word, known);
  if (!nearest.empty()) return fmt::format("did you mean `{}`?", nearest);
  if (known.empty()) return fmt::format("there are no {}", what);
  if (known.size() > most_listed) return {};
  return fmt::format("the {} are: {}", what, fmt::join(known, ", "));
}

std::string hint_from_tables(const Catalogue& catalogue, std::string_view word,
                             const std::vector<std::string>& known) {
  std::vector<std::string> small;
  for (const std::string& name : known) small.push_back(in_small_letters(name));
  const std::string nearest = nearest_name(in_small_letters(word), small);
  const auto found = std::find(small.begin(), small.end(), nearest);
  if (found != small.end())
    return fmt::format("did you mean `{}`?",
                       known[static_cast<std::size_t>(found - small.begin())]);
  std::vector<std::string> like;
  for (const Found& row : look_up(catalogue, word, LengthUnit::inch))
    if (like.size() < most_listed && std::find(known.begin(), known.end(), row.name) != known.end())
      like.push_back(row.name);
  if (!like.empty()) return fmt::format("there are: {}", fmt::join(like, "; "));
  return "`kerfwright lumber find WORD` lists what is known";
}

}  // namespace kw::resolving
