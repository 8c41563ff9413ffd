#include "faults.h"

#include <algorithm>
#include <fmt/format.h>

#include "kerfwright/measure/text.h"

namespace kw::resolving {
namespace {

constexpr std::size_t most_faults = 500;
constexpr std::size_t most_listed = 12;

}  // namespace

void Faults::report(Diagnostic fault) {
  if (fault.code.empty() || faults_.size() > most_faults) return;
  const bool has_place = !(fault.at == Span{});
  if (!known_.emplace(fault.code, fault.at.begin, fault.at.end, has_place ? "" : fault.message)
           .second)
    return;
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
  const std::string nearest = nearest_name(word, known);
  if (!nearest.empty()) return fmt::format("did you mean `{}`?", nearest);
  std::vector<std::string> like;
  for (const Found& row : look_up(catalogue, word, LengthUnit::inch))
    if (like.size() < most_listed && std::find(known.begin(), known.end(), row.name) != known.end())
      like.push_back(row.name);
  if (!like.empty()) return fmt::format("there are: {}", fmt::join(like, "; "));
  return "`kerfwright lumber find WORD` lists what is known";
}

}  // namespace kw::resolving
