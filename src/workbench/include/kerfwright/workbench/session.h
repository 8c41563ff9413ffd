// One piece that is open: its text, what follows from it, and its history. Every change is kept in
// the store before it is answered, then written to the piece's own file; undo and redo are changes
// too, by the inverse edits, so that they reach back over restarts.
//
// A change that makes the text wrong is kept: it is the maker's text. While it cannot be read,
// or boards that were there cannot be built of it, the picture is that of the last
// text that could be. A change that changes nothing is no step.
//
// When another program writes the file, nothing is overwritten: the session says so (`outside`)
// until it is told whose text to take. Not to be used by two threads at once.
#pragma once

#include <filesystem>
#include <map>
#include <memory>

#include "kerfwright/store/shelf.h"
#include "kerfwright/wire/requests.h"
#include "kerfwright/wire/view_json.h"
#include "kerfwright/workbench/recompute.h"

namespace kw {

class Session {
 public:
  // `now`, here and below: milliseconds since 1970, UTC. Errors: io.cannot-read, io.too-large,
  // piece.not-utf8, and those of the store.
  [[nodiscard]] static Outcome<std::unique_ptr<Session>> open(const std::filesystem::path& file,
                                                              const std::string& name, Store store,
                                                              std::int64_t now);
  ~Session();

  [[nodiscard]] std::int64_t revision() const { return revision_; }
  [[nodiscard]] const Text& text() const { return text_; }
  // What can be seen: of the newest text that can be built. `seen_text` is that text.
  [[nodiscard]] const Snapshot& seen() const { return seen_; }
  [[nodiscard]] const Text& seen_text() const { return seen_text_; }
  [[nodiscard]] bool is_earlier() const { return is_earlier_; }
  [[nodiscard]] ViewData view_data() const;

  // Shows figures in this unit from now on, not in the file's; they are then rounded to 1/16 in or
  // to 1 mm. The text stays as it is.
  void show_in(std::optional<LengthUnit> unit);

  // Replies as JSON (View, Changes). All changes are against the newest revision; the caller has
  // compared it with what the page thinks. Errors are those of `change`; the first of several
  // wishes that cannot be done is told by its number in `failed`.
  [[nodiscard]] std::string view();
  [[nodiscard]] Outcome<std::string> edit(const EditRequest& request, std::int64_t now,
                                          int& failed);
  [[nodiscard]] Outcome<std::string> try_sizes(const TryRequest& request);
  // workbench.nothing-to-undo, workbench.nothing-to-redo.
  [[nodiscard]] Outcome<std::string> undo(std::int64_t now);
  [[nodiscard]] Outcome<std::string> redo(std::int64_t now);
  [[nodiscard]] Outcome<std::string> restore(std::int64_t revision, std::int64_t now);

  // Looks whether the file is still what was written last; true when that has changed.
  bool look_outside();
  [[nodiscard]] bool is_outside() const { return outside_.has_value(); }
  // workbench.not-outside when the file is ours.
  [[nodiscard]] Outcome<std::string> settle(bool takes_theirs, std::int64_t now);

  [[nodiscard]] std::vector<Revision> history(std::int64_t before) const;

 private:
  // Revisions that are undone together, oldest first.
  struct Step {
    std::int64_t first = 0, last = 0;
    std::string words = {}, group = {};
  };

  Session(std::filesystem::path file, std::string name, Store store)
      : file_(std::move(file)), name_(std::move(name)), store_(std::move(store)) {}

  [[nodiscard]] Diagnostics begin(std::int64_t now);
  [[nodiscard]] Diagnostics begin_history(const std::string& on_disk, std::int64_t now);
  [[nodiscard]] Diagnostics go_on(const std::string& on_disk, std::int64_t newest);
  [[nodiscard]] bool is_one_of_ours(const std::string& on_disk, std::int64_t newest) const;
  void read_steps();
  void take_step(const Revision& revision);

  // Keeps the delta as the next revision and works everything out anew.
  [[nodiscard]] Outcome<std::string> keep_change(Revision revision, const Delta& delta,
                                                 const std::string& text,
                                                 std::vector<KeyPath> made = {});
  [[nodiscard]] std::optional<Delta> delta_of(const Step& step, bool is_undo) const;
  [[nodiscard]] ViewData view_of(const Snapshot& made, const Diagnostics& faults) const;
  [[nodiscard]] Snapshot worked_out(const Text& text, const std::vector<Override>& overrides = {});
  // What was worked out from text_ is now seen, if it can be.
  void take(Snapshot now);
  // What the disk said of a change.
  struct Kept {
    Diagnostics history = {};
    std::optional<Diagnostics> file = {};  // nothing when it was left alone
  };
  [[nodiscard]] Kept keep_on_disk(const Revision& revision, const Delta& delta,
                                  const std::string& text, bool writes_file);
  // Whether the piece's file may be written: no one else has.
  [[nodiscard]] bool is_ours();
  void save();
  void note_saved(const Diagnostics& faults);
  [[nodiscard]] ViewHead head() const;

  std::filesystem::path file_;
  std::string name_;
  Store store_;
  Text text_ = {};
  std::int64_t revision_ = 0;

  std::optional<LengthUnit> unit_ = {};  // shown, when it is not to be the file's
  Snapshot seen_ = {};
  Text seen_text_ = {};
  std::optional<Snapshot> faulty_ = {};  // of text_, when it can be read but not built
  Diagnostics faults_ = {};              // of text_
  bool is_earlier_ = false;
  ShapeCache cache_ = {};
  MeshWriter meshes_ = {};
  ViewSections sections_ = {};

  std::vector<Step> undo_ = {}, redo_ = {};
  std::int64_t saved_ = 0;  // the revision that the file holds
  FileMark mark_ = {};
  std::string not_saved_ = {};  // why
  std::optional<std::string> outside_ = {};
};

}  // namespace kw
