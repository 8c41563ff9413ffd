// What the page shows of a piece, as JSON (web/contract/openapi.yaml: View and Changes). A view is
// made in sections, so that a reply after an edit holds only those that differ.
#pragma once

#include <array>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "kerfwright/diag/utf16.h"
#include "kerfwright/parts/cut_list.h"
#include "kerfwright/piece/document.h"
#include "kerfwright/piece/edit.h"

namespace kw {

// What a view is made from. The text that the document was read from, and what followed from it.
struct ViewData {
  const Text* text = nullptr;
  const Document* document = nullptr;
  const Resolved* piece = nullptr;
  const std::vector<Body>* bodies = nullptr;
  const std::vector<std::shared_ptr<const Mesh>>* meshes = nullptr;  // one a body
  const std::vector<Clash>* clashes = nullptr;
  const CutList* cut_list = nullptr;
  // What follows may belong to a newer text than the rest: one that cannot be built, or, the last
  // two, one that cannot be read.
  const Text* values_text = nullptr;
  const Document* values_document = nullptr;
  const Resolved* values_piece = nullptr;
  const Text* newest_text = nullptr;
  const Diagnostics* diagnostics = nullptr;
};

// Meshes as JSON, made once for each mesh that is still in use.
class MeshWriter {
 public:
  struct Written {
    std::string id = {};    // sixteen hexadecimal digits, made from the bytes
    std::string json = {};  // a Mesh of the contract
  };
  [[nodiscard]] std::shared_ptr<const Written> written(const std::shared_ptr<const Mesh>& mesh,
                                                       const std::shared_ptr<const Shape>& shape);
  // Forgets the meshes that were not asked for since the last call.
  void forget_unused();

 private:
  struct Known {
    std::shared_ptr<const Mesh> mesh = {};
    std::shared_ptr<const Written> written = {};
    bool is_used = true;
  };
  std::map<const Mesh*, Known> known_ = {};
};

// The sections in the order of the contract, each the JSON of its value.
struct ViewSections {
  static constexpr std::array<std::string_view, 16> names = {
      "title",  "unit",   "file_unit", "rule",   "diagnostics", "sizes", "derived", "stocks",
      "bodies", "joints", "clashes",   "points", "planes",      "parts", "totals",  "files"};
  std::array<std::string, names.size()> json = {};
  std::map<std::string, std::shared_ptr<const MeshWriter::Written>> meshes = {};  // by id
};
[[nodiscard]] ViewSections sections_of(const ViewData& data, MeshWriter& meshes);

enum class SavedState : std::uint8_t { saved, not_saved, outside };

// What heads both a view and changes.
struct ViewHead {
  std::string piece = {};
  std::int64_t revision = 0;
  std::optional<std::string> undo = {}, redo = {};  // what would be undone, redone
  SavedState saved = SavedState::saved;
  std::string saved_words = {};
  std::string outside_text = {};  // with SavedState::outside
  bool is_earlier = false;        // the picture is of an earlier text
};

[[nodiscard]] std::string view_json(const ViewHead& head, const std::string& text,
                                    const ViewSections& sections);

// A change of the text in UTF-16 code units.
struct TextSplice {
  std::uint32_t from = 0, to = 0;
  std::string with = {};
};
// In order, each in the text that the one before left; `text` is the text before all.
[[nodiscard]] std::vector<TextSplice> splices_of(const std::string& text,
                                                 const std::vector<TextEdit>& edits);

struct ViewChange {
  std::int64_t base = 0;
  std::vector<TextSplice> splices = {};
  std::vector<std::vector<std::string>> made = {};  // paths of tables that were added
};
[[nodiscard]] std::string changes_json(const ViewHead& head, const ViewChange& change,
                                       const ViewSections& before, const ViewSections& after);

}  // namespace kw
