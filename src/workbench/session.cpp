#include "kerfwright/workbench/session.h"

#include <algorithm>
#include <fmt/core.h>
#include <future>
#include <set>

#include "kerfwright/measure/text.h"

namespace kw {
namespace fs = std::filesystem;

namespace {

constexpr int history_page = 100;
// As many changes as a maker makes in years; a few megabytes.
constexpr std::int64_t most_revisions = 20'000;

Delta delta_of_edits(const std::string& before, const std::vector<TextEdit>& edits) {
  Delta delta;
  std::string now = before;
  for (const TextEdit& edit : edits) {
    delta.push_back(
        {edit.at.begin, now.substr(edit.at.begin, edit.at.end - edit.at.begin), edit.with});
    now.replace(edit.at.begin, edit.at.end - edit.at.begin, edit.with);
  }
  return delta;
}

std::vector<TextEdit> edits_of(const Delta& delta) {
  std::vector<TextEdit> edits;
  for (const Replaced& r : delta)
    edits.push_back({{r.begin, static_cast<std::uint32_t>(r.begin + r.was.size())}, r.now});
  return edits;
}

bool is_continuation(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

// One replacement of what differs between two texts, at the bounds of characters.
Delta difference(const std::string& before, const std::string& after) {
  const std::size_t most = std::min(before.size(), after.size());
  std::size_t head = 0;
  while (head < most && before[head] == after[head]) ++head;
  while (head > 0 && ((head < before.size() && is_continuation(before[head])) ||
                      (head < after.size() && is_continuation(after[head]))))
    --head;
  std::size_t tail = 0;
  while (tail < most - head && before[before.size() - 1 - tail] == after[after.size() - 1 - tail])
    ++tail;
  while (tail > 0 && is_continuation(before[before.size() - tail])) --tail;
  if (head == before.size() && head == after.size()) return {};
  return {{static_cast<std::uint32_t>(head), before.substr(head, before.size() - tail - head),
           after.substr(head, after.size() - tail - head)}};
}

bool cannot_be_read(const Diagnostics& faults) {
  return std::any_of(faults.begin(), faults.end(), [](const Diagnostic& d) {
    return d.code == "piece.syntax" || d.code == "piece.too-large" || d.code == "piece.not-utf8" ||
           d.code == "piece.too-deep";
  });
}

bool is_declared_in(const Scope& scope, std::string_view name) {
  const auto is_it = [&](const auto& decl) { return decl.name.text == name; };
  return std::any_of(scope.boards.begin(), scope.boards.end(), is_it) ||
         std::any_of(scope.panels.begin(), scope.panels.end(), is_it);
}

// "trough/side" is `side` of an assembly.
bool is_declared(const Document& document, std::string_view made_from) {
  const std::string_view name = made_from.substr(made_from.rfind('/') + 1);
  return is_declared_in(document.top, name) ||
         std::any_of(document.assemblies.begin(), document.assemblies.end(),
                     [&](const auto& assembly) { return is_declared_in(assembly.scope, name); });
}

const ResolvedBoard& board_of(const Snapshot& snapshot, const Body& body) {
  return snapshot.piece.boards[static_cast<std::size_t>(body.board)];
}

// Whether a board that was there is still declared, or copied from one that is, and cannot be
// built.
bool loses_a_board(const Snapshot& before, const Snapshot& now) {
  if (!has_errors(now.diagnostics)) return false;
  std::set<std::string_view> built;
  for (const Body& body : now.bodies) built.insert(board_of(now, body).id);
  return std::any_of(before.bodies.begin(), before.bodies.end(), [&](const Body& body) {
    const ResolvedBoard& board = board_of(before, body);
    return built.count(board.id) == 0 && is_declared(now.document, board.made_from);
  });
}

Diagnostic nothing_to(std::string_view what, std::string_view code) {
  return {.code = code, .message = fmt::format("there is nothing to {}", what), .hint = ""};
}

// What was pointed at: the side of the stick that the face is.
void find_side(PlaceWish& place, const Snapshot& seen) {
  auto* pointed = std::get_if<Pointed>(&place);
  if (!pointed || pointed->face < 0) return;
  constexpr std::array<const char*, 6> sides = {"-x", "+x", "-y", "+y", "-z", "+z"};
  for (const Body& body : seen.bodies) {
    if (seen.piece.boards[static_cast<std::size_t>(body.board)].id != pointed->board) continue;
    const auto& faces = body.shape->faces;
    if (static_cast<std::size_t>(pointed->face) >= faces.size()) return;
    const Face& face = faces[static_cast<std::size_t>(pointed->face)];
    const bool is_stick =
        body.shape->features[static_cast<std::size_t>(face.feature)].kind == FeatureKind::stick;
    if (is_stick && face.side >= 2 && face.side < 6)
      pointed->side = sides[static_cast<std::size_t>(face.side)];
    return;
  }
}

// The box of a size shows its figure in the unit that is shown, so a bare figure typed there is in
// that unit, and the file is told so.
std::string with_unit(const std::string& typed, LengthUnit shown) {
  const auto inches = parse_length(typed, LengthUnit::inch);
  const auto mm = parse_length(typed, LengthUnit::mm);
  const bool is_bare = inches && mm && *inches != *mm;
  return is_bare ? typed + (shown == LengthUnit::mm ? " mm" : " in") : typed;
}

bool is_length(const std::string& size, const Snapshot& seen) {
  return std::any_of(seen.piece.sizes.begin(), seen.piece.sizes.end(), [&](const NamedValue& one) {
    return one.name == size && one.value.dimension == a_length;
  });
}

void name_unit(SetPath& wish, const Snapshot& seen) {
  if (seen.piece.unit == seen.document.unit) return;
  auto* typed = std::get_if<std::string>(&wish.value);
  if (typed && wish.path.size() == 3 && wish.path[0] == "size" && is_length(wish.path[1], seen))
    *typed = with_unit(*typed, seen.piece.unit);
}

void find_sides(Change& wish, const Snapshot& seen) {
  if (auto* board = std::get_if<AddBoard>(&wish)) {
    find_side(board->from, seen);
    if (board->to) find_side(*board->to, seen);
  }
}

}  // namespace

Outcome<std::unique_ptr<Session>> Session::open(const fs::path& file, const std::string& name,
                                                Store store, std::int64_t now) {
  std::unique_ptr<Session> session(new Session(file, name, std::move(store)));
  Diagnostics faults = session->begin(now);
  if (has_errors(faults)) return faults;
  return session;
}

Session::~Session() {
  if (saved_ == revision_ && revision_ > 0) static_cast<void>(store_.note_saved(name_, saved_));
}

Diagnostics Session::begin(std::int64_t now) {
  const auto on_disk = read_piece_file(file_);
  if (!on_disk) return on_disk.diagnostics();
  mark_ = mark_of(file_);
  text_.name = file_.filename().string();
  const auto newest = store_.newest(name_);
  Diagnostics faults = newest ? go_on(*on_disk, *newest) : begin_history(*on_disk, now);
  if (has_errors(faults)) return faults;
  take(worked_out(text_));
  for (const Diagnostic& d : faults_)
    if (d.code == "piece.not-utf8") return {d};
  sections_ = sections_of(view_data(), meshes_);
  return {};
}

Diagnostics Session::begin_history(const std::string& on_disk, std::int64_t now) {
  text_.content = on_disk;
  revision_ = saved_ = 1;
  return store_.append(name_, {1, now, RevisionKind::first, "as it was when first opened"}, {},
                       on_disk, 1);
}

Diagnostics Session::go_on(const std::string& on_disk, std::int64_t newest) {
  auto text = store_.text_of(name_, newest);
  if (!text) return text.diagnostics();
  text_.content = *std::move(text);
  revision_ = newest;
  if (auto faults = store_.forget_oldest(name_, most_revisions); has_errors(faults)) return faults;
  read_steps();
  if (text_.content == on_disk) {
    saved_ = revision_;
  } else if (is_one_of_ours(on_disk, newest)) {
    save();  // the program was stopped between keeping the change and writing the file
  } else {
    outside_ = on_disk;
  }
  return {};
}

// Whether the file holds a revision from the last one known to be saved on: then no one else wrote
// it.
bool Session::is_one_of_ours(const std::string& on_disk, std::int64_t newest) const {
  for (std::int64_t n = newest - 1; n >= std::max<std::int64_t>(1, store_.saved(name_)); --n) {
    const auto text = store_.text_of(name_, n);
    if (!text) return false;
    if (*text == on_disk) return true;
  }
  return false;
}

void Session::read_steps() {
  auto all = store_.revisions(name_, 0, 1'000'000'000);
  for (auto revision = all.rbegin(); revision != all.rend(); ++revision) take_step(*revision);
}

void Session::take_step(const Revision& revision) {
  const Step alone{revision.number, revision.number, revision.words, revision.group};
  switch (revision.kind) {
    case RevisionKind::first:
      return;
    case RevisionKind::undo:
      if (undo_.empty()) return;
      redo_.push_back(std::move(undo_.back()));
      undo_.pop_back();
      return;
    case RevisionKind::redo:
      if (redo_.empty()) return;
      undo_.push_back(std::move(redo_.back()));
      redo_.pop_back();
      return;
    default:
      break;
  }
  const bool joins = !revision.group.empty() && redo_.empty() && !undo_.empty() &&
                     undo_.back().group == revision.group &&
                     undo_.back().last == revision.number - 1;
  redo_.clear();
  if (joins)
    undo_.back().last = revision.number;
  else
    undo_.push_back(alone);
}

ViewData Session::view_data() const {
  ViewData data = view_of(seen_, faults_);
  data.values_text = faulty_ || !is_earlier_ ? &text_ : &seen_text_;
  if (faulty_) {
    data.values_document = &faulty_->document;
    data.values_piece = &faulty_->piece;
  }
  return data;
}

// What `made` of the text that is seen shows, values and all.
ViewData Session::view_of(const Snapshot& made, const Diagnostics& faults) const {
  return {.text = &seen_text_,
          .document = &made.document,
          .piece = &made.piece,
          .bodies = &made.bodies,
          .meshes = &made.meshes,
          .clashes = &made.clashes,
          .cut_list = &made.cut_list,
          .values_text = &seen_text_,
          .values_document = &made.document,
          .values_piece = &made.piece,
          .newest_text = &text_,
          .diagnostics = &faults};
}

Snapshot Session::worked_out(const Text& text, const std::vector<Override>& overrides) {
  return recompute(text, built_in_catalogue(), cache_, overrides, unit_);
}

void Session::show_in(std::optional<LengthUnit> unit) {
  if (unit == unit_) return;
  unit_ = unit;
  const LengthUnit shown = unit.value_or(seen_.document.unit);
  if (shown == seen_.piece.unit) return;
  seen_ = worked_out(seen_text_);
  if (faulty_) faulty_ = worked_out(text_);
  if (!is_earlier_) faults_ = seen_.diagnostics;
  sections_ = sections_of(view_data(), meshes_);
}

void Session::take(Snapshot now) {
  faults_ = now.diagnostics;
  faulty_.reset();
  const bool is_unreadable = cannot_be_read(faults_);
  is_earlier_ = !seen_.bodies.empty() && (is_unreadable || loses_a_board(seen_, now));
  if (is_earlier_) {
    if (!is_unreadable) faulty_ = std::move(now);
    return;
  }
  seen_ = std::move(now);
  seen_text_ = text_;
}

ViewHead Session::head() const {
  ViewHead head{.piece = name_, .revision = revision_, .is_earlier = is_earlier_};
  if (!undo_.empty()) head.undo = undo_.back().words;
  if (!redo_.empty()) head.redo = redo_.back().words;
  if (outside_) {
    head.saved = SavedState::outside;
    head.outside_text = *outside_;
    head.saved_words = "another program changed the file: choose whose text is to stand";
  } else if (saved_ != revision_) {
    head.saved = SavedState::not_saved;
    head.saved_words = not_saved_;
  }
  return head;
}

std::string Session::view() {
  return view_json(head(), text_.content, sections_);
}

Outcome<std::string> Session::edit(const EditRequest& request, std::int64_t now, int& failed) {
  Text text = text_;
  std::vector<TextEdit> edits;
  std::vector<KeyPath> made;
  std::string words;
  for (std::size_t i = 0; i < request.what.size(); ++i) {
    Change wish = request.what[i];
    find_sides(wish, seen_);
    if (auto* set = std::get_if<SetPath>(&wish)) name_unit(*set, seen_);
    auto changed = change(text, wish, seen_.piece);
    if (!changed) {
      failed = static_cast<int>(i);
      return changed.diagnostics();
    }
    text = std::move(changed->text);
    edits.insert(edits.end(), changed->edits.begin(), changed->edits.end());
    made.insert(made.end(), changed->made.begin(), changed->made.end());
    if (words.empty()) words = changed->words;
  }
  if (text.content == text_.content)
    return changes_json(head(), {revision_, {}, std::move(made)}, sections_, sections_);
  if (request.what.size() > 1) words += fmt::format(" and {} more", request.what.size() - 1);
  const Revision revision{revision_ + 1, now, RevisionKind::edit, words.substr(0, 300),
                          request.group};
  return keep_change(revision, delta_of_edits(text_.content, edits), text.content, std::move(made));
}

Outcome<std::string> Session::keep_change(Revision revision, const Delta& delta,
                                          const std::string& text, std::vector<KeyPath> made) {
  // What follows from the text is worked out while the disk takes the change.
  const bool writes_file = is_ours();
  auto keeping = std::async(std::launch::async | std::launch::deferred,
                            [&] { return keep_on_disk(revision, delta, text, writes_file); });
  Snapshot next = worked_out({text_.name, text});
  Kept kept = keeping.get();
  if (has_errors(kept.history)) return std::move(kept.history);
  const ViewChange changes{revision_, splices_of(text_.content, edits_of(delta)), std::move(made)};
  text_.content = text;
  revision_ = revision.number;
  take_step(revision);
  if (kept.file) note_saved(*kept.file);
  take(std::move(next));
  ViewSections after = sections_of(view_data(), meshes_);
  meshes_.forget_unused();
  std::string reply = changes_json(head(), changes, sections_, after);
  sections_ = std::move(after);
  return reply;
}

Outcome<std::string> Session::try_sizes(const TryRequest& request) {
  std::vector<Override> overrides;
  for (const TrySize& wish : request.set) {
    if (wish.typed) {
      const bool names_unit =
          seen_.piece.unit != seen_.document.unit && is_length(wish.size, seen_);
      overrides.push_back(
          {wish.size, names_unit ? with_unit(*wish.typed, seen_.piece.unit) : *wish.typed});
      continue;
    }
    const auto changed = change(seen_text_, SlideSize{wish.size, wish.at}, seen_.piece);
    if (!changed) return changed.diagnostics();
    const auto at = find_value(changed->text, {"size", wish.size, "is"});
    if (!at) return at.diagnostics();
    std::string typed = changed->text.content.substr(at->begin, at->end - at->begin);
    if (typed.size() > 1 && typed.front() == '"') typed = typed.substr(1, typed.size() - 2);
    overrides.push_back({wish.size, typed});
  }
  const Snapshot tried = worked_out(seen_text_, overrides);
  const ViewSections after = sections_of(view_of(tried, tried.diagnostics), meshes_);
  // What is shown is kept as well, what earlier tries made is not.
  for (std::size_t i = 0; i < seen_.bodies.size(); ++i)
    static_cast<void>(meshes_.written(seen_.meshes[i], seen_.bodies[i].shape));
  meshes_.forget_unused();
  return changes_json(head(), {revision_, {}, {}}, sections_, after);
}

std::optional<Delta> Session::delta_of(const Step& step, bool is_undo) const {
  Delta whole;
  const std::int64_t count = step.last - step.first + 1;
  for (std::int64_t i = 0; i < count; ++i) {
    const auto delta = store_.delta_of(name_, is_undo ? step.last - i : step.first + i);
    if (!delta) return std::nullopt;
    const Delta part = is_undo ? inverse_of(*delta) : *delta;
    whole.insert(whole.end(), part.begin(), part.end());
  }
  return whole;
}

Outcome<std::string> Session::undo(std::int64_t now) {
  if (undo_.empty()) return nothing_to("undo", "workbench.nothing-to-undo");
  const auto delta = delta_of(undo_.back(), true);
  const auto text = delta ? apply(*delta, text_.content) : std::nullopt;
  if (!text) return nothing_to("undo", "workbench.nothing-to-undo");
  return keep_change({revision_ + 1, now, RevisionKind::undo, "undid: " + undo_.back().words},
                     *delta, *text);
}

Outcome<std::string> Session::redo(std::int64_t now) {
  if (redo_.empty()) return nothing_to("redo", "workbench.nothing-to-redo");
  const auto delta = delta_of(redo_.back(), false);
  const auto text = delta ? apply(*delta, text_.content) : std::nullopt;
  if (!text) return nothing_to("redo", "workbench.nothing-to-redo");
  return keep_change({revision_ + 1, now, RevisionKind::redo, "did again: " + redo_.back().words},
                     *delta, *text);
}

Outcome<std::string> Session::restore(std::int64_t revision, std::int64_t now) {
  const auto text = store_.text_of(name_, revision);
  if (!text) return text.diagnostics();
  return keep_change({revision_ + 1, now, RevisionKind::restore,
                      fmt::format("went back to revision {}", revision)},
                     difference(text_.content, *text), *text);
}

Session::Kept Session::keep_on_disk(const Revision& revision, const Delta& delta,
                                    const std::string& text, bool writes_file) {
  Kept kept{.history = store_.append(name_, revision, delta, text, saved_)};
  if (writes_file && !has_errors(kept.history)) kept.file = write_piece_file(file_, text);
  return kept;
}

bool Session::is_ours() {
  if (!outside_ && saved_ > 0 && mark_of(file_) != mark_) look_outside();
  return !outside_;
}

void Session::save() {
  if (is_ours()) note_saved(write_piece_file(file_, text_.content));
}

void Session::note_saved(const Diagnostics& faults) {
  if (faults.empty()) {
    saved_ = revision_;
    mark_ = mark_of(file_);
    not_saved_.clear();
  } else {
    not_saved_ = faults.front().message + "; " + faults.front().hint;
  }
}

bool Session::look_outside() {
  const FileMark now = mark_of(file_);
  if (now == mark_) return false;
  const auto on_disk = read_piece_file(file_);
  if (!on_disk) return false;  // gone or being replaced: looked at again later
  const bool was_outside = is_outside();
  const auto ours = store_.text_of(name_, saved_);
  mark_ = now;
  if (*on_disk == text_.content || (ours && *on_disk == *ours)) {
    outside_.reset();
    if (*on_disk == text_.content) saved_ = revision_;
    return was_outside;
  }
  const bool is_new = !outside_ || *outside_ != *on_disk;
  outside_ = *on_disk;
  return is_new;
}

Outcome<std::string> Session::settle(bool takes_theirs, std::int64_t now) {
  look_outside();
  if (!outside_) {
    return Diagnostic{.code = "workbench.not-outside",
                      .message = "the file is as it was written here",
                      .hint = "load the piece again"};
  }
  const std::string theirs = *outside_;
  const std::string mine = text_.content;
  // Theirs goes into the history in any case.
  auto reply =
      keep_change({revision_ + 1, now, RevisionKind::outside, "changed by another program"},
                  difference(mine, theirs), theirs);
  if (!reply || takes_theirs) {
    if (reply) {
      outside_.reset();
      save();
      return changes_json(head(),
                          {revision_ - 1, splices_of(mine, edits_of(difference(mine, theirs))), {}},
                          {}, sections_);
    }
    return reply;
  }
  outside_.reset();
  auto back = keep_change({revision_ + 1, now, RevisionKind::restore, "took our own text again"},
                          difference(theirs, mine), mine);
  if (!back) return back;
  return changes_json(head(), {revision_ - 2, {}, {}}, {}, sections_);
}

std::vector<Revision> Session::history(std::int64_t before) const {
  return store_.revisions(name_, before, history_page);
}

}  // namespace kw
