#include "kerfwright/checks/survey.h"

#include <algorithm>
#include <array>

#include "survey/scene.h"

namespace kw {

std::string_view name_of(Verdict verdict) {
  constexpr std::array<std::string_view, 4> names = {"passes", "look", "fails", "not computed"};
  return names[static_cast<std::size_t>(verdict)];
}

std::string_view name_of(CheckArea area) {
  constexpr std::array<std::string_view, 8> names = {"fit",  "hold",      "frame", "stand",
                                                     "move", "tolerance", "use",   "shop"};
  return names[static_cast<std::size_t>(area)];
}

std::vector<Finding> survey(const Resolved& piece, const std::vector<Body>& bodies,
                            const Catalogue& catalogue, const SurveyOptions& options) {
  using namespace surveying;
  Scene scene = scene_of(piece, bodies, catalogue, options);
  survey_screws(scene);
  survey_frame(scene);
  survey_standing(scene);
  survey_movement(scene);
  if (options.draws.count > 0) survey_tolerance(scene);
  survey_use(scene);
  survey_shop(scene);
  const auto rank = [](const Finding& f) {
    constexpr std::array<int, 4> order = {3, 1, 0, 2};  // fails, look, not computed, passes
    return std::pair(static_cast<int>(f.area), order[static_cast<std::size_t>(f.verdict)]);
  };
  std::stable_sort(scene.findings.begin(), scene.findings.end(),
                   [&](const Finding& a, const Finding& b) { return rank(a) < rank(b); });
  return std::move(scene.findings);
}

std::string_view findings_caution() {
  return "Computed under the assumptions shown, not tested. Nothing here says that a piece is fit "
         "to use: "
         "where people could be hurt, local codes and someone licensed to judge it come first.";
}

std::string to_text(const std::vector<Finding>& findings) {
  std::string text = std::string(findings_caution()) + "\n";
  for (const Finding& f : findings) {
    text += fmt::format("\n{}: {} [{}]\n", name_of(f.area), f.message, name_of(f.verdict));
    if (!f.number.empty())
      text += fmt::format("  number      {}{}\n", f.number,
                          f.limit.empty() ? "" : "; limit " + f.limit);
    text += fmt::format("  source      {}\n  assumption  {}\n", f.source, f.assumption);
    if (!f.change.empty()) text += fmt::format("  change      {}\n", f.change);
    text += fmt::format("  check       {}\n", f.check);
  }
  return text;
}

}  // namespace kw
