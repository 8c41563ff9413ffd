// Copies: in the order that their sources ask for, else that of the file.
#include "copies.h"

#include <algorithm>
#include <fmt/format.h>
#include <iterator>

#include "place.h"

namespace kw::resolving {
namespace {

// Which copies of the scope make what these words name: by the copy's name, by a name it gives, or
// by the ids it makes (COPY/BOARD). Patterns take what is there.
std::vector<int> makers_of(const Scene& scene, const std::vector<Name>& words,
                           const NameTable& given) {
  const NameTable& copies = scene.work.sites.names(scene.site).copies;
  std::vector<int> makers;
  for (const Name& word : words) {
    if (is_pattern(word.text)) continue;
    const std::string_view text = word.text;
    if (const auto copy = find(copies, text.substr(0, text.find('/')))) makers.push_back(*copy);
    if (const auto copy = find(given, text)) makers.push_back(*copy);
  }
  return makers;
}

NameTable given_names(const Scope& scope) {
  NameTable table;
  for (std::size_t i = 0; i < scope.copies.size(); ++i)
    for (const Name& name : scope.copies[i].names) table.emplace(name.text, static_cast<int>(i));
  return table;
}

// "N/leg-a"; of copies that may be many, "N/leg-a/2" (the original is the first).
std::string copy_id(const CopyDecl& decl, const std::string& source, std::size_t number) {
  if (std::holds_alternative<MirrorDecl>(decl.how))
    return fmt::format("{}/{}", decl.name.text, source);
  return fmt::format("{}/{}/{}", decl.name.text, source, number + 2);
}

Part copy_of(const Part& source, int index, const Motion& motion, std::string id) {
  Part copy = source;
  copy.board.id = std::move(id);
  copy.board.frame = moved(source.board.frame, motion);
  copy.source = index;
  copy.is_flipped = motion.is_mirror;
  if (motion.is_mirror) {
    copy.features = flipped(copy.features);
    copy.board.is_mirrored = !copy.board.is_mirrored;
    copy.board.show = flipped_side(copy.board.show);
  }
  for (EndCut& end : copy.ends) end = {};
  return copy;
}

// Whether a copy fills the same room as what it is a copy of.
bool lies_on(const Part& copy, const Part& source) {
  const auto middle = [](const Part& part) {
    return part.board.frame.to_world(Vec3{part.length / 2, 0, 0});
  };
  const auto is_along = [](Vec3 a, Vec3 b) { return norm(cross(a, b)) < 1e-9; };
  return norm(middle(copy) - middle(source)) < 0.01 &&
         is_along(copy.board.frame.x, source.board.frame.x) &&
         is_along(copy.board.frame.z, source.board.frame.z);
}

void check_apart(Scene& scene, const CopyDecl& decl, const Part& copy, const Part& source) {
  if (copy.is_broken || !lies_on(copy, source)) return;
  scene.work.faults.report({.code = "piece.copy-on-original",
                            .severity = Severity::warning,
                            .at = decl.name.at,
                            .message = fmt::format("a copy of `{}` lies on `{}` itself",
                                                   source.board.id, source.board.id),
                            .hint = "take that board out of `of`, or move the copies"});
}

void check_names(Scene& scene, const CopyDecl& decl, std::size_t made) {
  if (decl.names.empty() || decl.names.size() == made) return;
  scene.work.faults.report(
      {.code = "piece.names-count",
       .at = decl.names.front().at,
       .message =
           fmt::format("{} {} for the {} that `{}` makes", decl.names.size(),
                       decl.names.size() == 1 ? "name" : "names",
                       made == 1 ? "one copy" : fmt::format("{} copies", made), decl.name.text),
       .hint = "give each copy a name, in order, or none"});
}

// The given names that no copy bears, so that no more is told of whoever asks for them.
void add_ghosts(Scene& scene, const CopyDecl& decl, std::size_t from) {
  for (std::size_t i = from; i < decl.names.size(); ++i) {
    Part ghost{.is_broken = true};
    ghost.board.id = decl.names[i].text;
    add_part(scene, std::move(ghost));
  }
}

Copying copied(Scene& scene, const CopyDecl& decl, const std::vector<int>& sources,
               const std::vector<Motion>& motions) {
  Copying copying{.decl = &decl, .sources = sources};
  std::size_t made = 0;
  for (std::size_t k = 0; k < motions.size(); ++k) {
    std::vector<int> copies;
    for (const int index : sources) {
      const Part& source = scene.part(index);
      const std::string given = made < decl.names.size() ? decl.names[made].text : "";
      ++made;
      Part copy = copy_of(source, index, motions[k],
                          given.empty() ? copy_id(decl, source.board.id, k) : given);
      check_apart(scene, decl, copy, source);
      copies.push_back(add_part(scene, std::move(copy)));
    }
    copying.copies.push_back(std::move(copies));
  }
  return copying;
}

// Checked before anything is made.
bool can_afford(Scene& scene, const CopyDecl& decl, const std::vector<int>& sources,
                std::size_t times) {
  Work& work = scene.work;
  const auto boards = static_cast<long>(sources.size() * times);
  long features = 0;
  for (const int index : sources) features += size_of(scene.part(index).features);
  return spend(work, work.budget.boards, boards, decl.name.at, "boards") &&
         spend(work, work.budget.features, features * static_cast<long>(times), decl.name.at,
               "cuts and holes");
}

void make_copy(Scene& scene, const CopyDecl& decl) {
  Crowd crowd{.name = decl.name.text, .is_broken = true};
  const std::vector<int> sources = select(scene, decl.of);
  const auto motions = motions_of(scene, decl, sources);
  const std::size_t total = motions ? motions->size() * sources.size() : 0;
  std::size_t named = 0;
  if (motions && !sources.empty() && can_afford(scene, decl, sources, motions->size())) {
    check_names(scene, decl, total);
    Copying copying = copied(scene, decl, sources, *motions);
    for (const auto& copies : copying.copies)
      std::copy_if(copies.begin(), copies.end(), std::back_inserter(crowd.parts),
                   [](int part) { return part >= 0; });
    crowd.is_broken = false;
    named = total;
    scene.copyings.push_back(std::move(copying));
  }
  add_ghosts(scene, decl, named);
  scene.crowds.push_back(std::move(crowd));
}

// What is left over needs itself: the ring, from any copy in it.
void tell_ring(Scene& scene, const std::vector<std::vector<int>>& makers,
               const std::vector<bool>& is_made, int at) {
  std::vector<int> path;
  while (std::find(path.begin(), path.end(), at) == path.end()) {
    path.push_back(at);
    for (const int maker : makers[at_index(at)])
      if (!is_made[at_index(maker)]) at = maker;
  }
  path.erase(path.begin(), std::find(path.begin(), path.end(), at));
  const auto& copies = scene.scope().copies;
  const CopyDecl& first = copies[at_index(path.front())];
  Diagnostic fault{
      .code = "piece.cycle",
      .at = first.name.at,
      .message = fmt::format("`{}` is a copy of what is made from itself", first.name.text),
      .hint = "a copy is of boards, or of copies that do not need it"};
  for (std::size_t i = 1; i < path.size(); ++i)
    fault.notes.push_back({copies[at_index(path[i])].name.at,
                           fmt::format("it needs `{}`", copies[at_index(path[i])].name.text)});
  scene.work.faults.report(std::move(fault));
}

// Which copies can be made now.
class Order {
 public:
  explicit Order(const Scene& scene) : copies_(scene.scope().copies), is_made_(copies_.size()) {
    const NameTable given = given_names(scene.scope());
    for (const CopyDecl& decl : copies_) makers_.push_back(makers_of(scene, decl.of, given));
  }
  // A fill moves the board that it is of, so it comes before other copies of that board. A pattern
  // takes what stands above it in the file, unless that waits for the pattern in turn.
  [[nodiscard]] std::optional<std::size_t> next() {
    for (const bool waits_for_patterns : {true, false})
      for (const bool is_fill : {true, false})
        for (std::size_t i = 0; i < copies_.size(); ++i) {
          if (is_made_[i] || std::holds_alternative<FillDecl>(copies_[i].how) != is_fill) continue;
          if (!is_ready(i) || (waits_for_patterns && !is_all_above_made(i))) continue;
          is_made_[i] = true;
          while (first_left_ < is_made_.size() && is_made_[first_left_]) ++first_left_;
          return i;
        }
    return std::nullopt;
  }
  [[nodiscard]] const std::vector<std::vector<int>>& makers() const { return makers_; }
  [[nodiscard]] const std::vector<bool>& is_made() const { return is_made_; }

 private:
  [[nodiscard]] bool is_ready(std::size_t i) const {
    return std::all_of(makers_[i].begin(), makers_[i].end(),
                       [&](int m) { return is_made_[at_index(m)]; });
  }
  [[nodiscard]] bool is_all_above_made(std::size_t i) const {
    const auto& of = copies_[i].of;
    return first_left_ >= i || std::none_of(of.begin(), of.end(),
                                            [](const Name& word) { return is_pattern(word.text); });
  }

  const std::vector<CopyDecl>& copies_;
  std::vector<bool> is_made_;
  std::size_t first_left_ = 0;
  std::vector<std::vector<int>> makers_ = {};
};

}  // namespace

void make_copies(Scene& scene) {
  const auto& copies = scene.scope().copies;
  Order order(scene);
  while (const auto next = order.next()) make_copy(scene, copies[*next]);
  const std::vector<bool>& is_made = order.is_made();
  const auto left = std::find(is_made.begin(), is_made.end(), false);
  if (left == is_made.end()) return;
  tell_ring(scene, order.makers(), is_made, static_cast<int>(left - is_made.begin()));
  for (std::size_t i = 0; i < copies.size(); ++i) {
    if (is_made[i]) continue;
    add_ghosts(scene, copies[i], 0);
    scene.crowds.push_back({.name = copies[i].name.text, .is_broken = true});
  }
}

}  // namespace kw::resolving
