// Joints: the kinds, and which keys each kind has.
#include "read_declaration.h"

namespace kw::reading {
namespace {

struct Kind {
  std::string_view name = {};
  JointKind kind = JointKind::butt;
  std::string_view keys = {};         // its own, beside those of all joints
  std::string_view needs = {};        // must be said
  std::string_view needs_alone = {};  // must be said when it is cut into one board only
};

constexpr Kind kinds[] = {
    {"butt", JointKind::butt, "", "", ""},
    {"mitre", JointKind::mitre, "", "", ""},
    {"half-lap", JointKind::half_lap, "depth over", "", ""},
    {"notch", JointKind::notch, "depth", "", ""},
    {"housing", JointKind::housing, "depth stop", "", ""},
    {"rabbet", JointKind::rabbet, "edge face width depth", "", "edge face width depth"},
    {"groove", JointKind::groove, "face offset width depth starts ends", "", "face width depth"},
    {"bridle", JointKind::bridle, "thick", "", ""},
    {"tenon", JointKind::tenon, "long wide thick offset", "", ""},
    {"dowel", JointKind::dowel, "diameter long", "", ""},
    {"pocket-screw", JointKind::pocket_screw, "", "fasten", ""},
    {"toe-nail", JointKind::toe_nail, "", "fasten", ""},
    {"screw", JointKind::screw, "", "fasten", ""},
    {"glue", JointKind::glue, "", "", ""},
};

constexpr std::string_view keys_of_all = "kind of fasten count inset from ease glue step note";

bool has_word(std::string_view words, std::string_view word) {
  while (!words.empty()) {
    const std::string_view first = words.substr(0, words.find(' '));
    if (first == word) return true;
    words.remove_prefix(std::min(first.size() + 1, words.size()));
  }
  return false;
}

bool may_have(const Kind& kind, std::string_view key) {
  return has_word(keys_of_all, key) || has_word(kind.keys, key);
}

const Kind* find_kind(std::string_view name) {
  for (const Kind& kind : kinds) {
    if (kind.name == name) return &kind;
  }
  return nullptr;
}

void take_offset(Reader& reader, const TomlNode& node, JointDecl& into) {
  if (into.kind == JointKind::tenon)
    take(reader, node, into.offset);
  else
    take(reader, node, into.across);
}

constexpr Key<JointDecl> joint_keys[] = {
    {"kind", "kind", [](Reader&, const TomlNode&, JointDecl&) {}, true},
    key<JointDecl, &JointDecl::of>("of", Need::must),
    key<JointDecl, &JointDecl::depth>("depth"),
    key<JointDecl, &JointDecl::over>("over"),
    key<JointDecl, &JointDecl::stop>("stop"),
    key<JointDecl, &JointDecl::edge>("edge"),
    key<JointDecl, &JointDecl::face>("face"),
    {"offset", "offset", take_offset},
    key<JointDecl, &JointDecl::wide>("width"),
    key<JointDecl, &JointDecl::starts>("starts"),
    key<JointDecl, &JointDecl::ends>("ends"),
    key<JointDecl, &JointDecl::length>("long"),
    key<JointDecl, &JointDecl::wide>("wide"),
    key<JointDecl, &JointDecl::thick>("thick"),
    key<JointDecl, &JointDecl::diameter>("diameter"),
    key<JointDecl, &JointDecl::fasten>("fasten"),
    key<JointDecl, &JointDecl::count>("count"),
    key<JointDecl, &JointDecl::inset>("inset"),
    key<JointDecl, &JointDecl::from>("from"),
    key<JointDecl, &JointDecl::ease>("ease"),
    key<JointDecl, &JointDecl::glue>("glue"),
    key<JointDecl, &JointDecl::step>("step"),
    key<JointDecl, &JointDecl::note>("note"),
};

// The kind, or nothing and a fault.
const Kind* kind_of(Reader& reader, const TomlNode& table) {
  const TomlNode* node = table.find("kind");
  if (node == nullptr) return nullptr;
  Name word;
  reader.key = "kind";
  take(reader, *node, word);
  const Kind* kind = find_kind(word.text);
  if (kind != nullptr || word.text.empty()) return kind;
  std::vector<std::string> names;
  for (const Kind& known : kinds) names.emplace_back(known.name);
  const std::string nearest = nearest_name(word.text, names);
  reader.report({.code = "piece.unknown-joint-kind",
                 .at = word.at,
                 .message = fmt::format("`{}` is no kind of joint", word.text),
                 .hint = nearest.empty() ? fmt::format("the kinds are: {}", fmt::join(names, ", "))
                                         : fmt::format("did you mean \"{}\"?", nearest)});
  return nullptr;
}

void key_of_other_kind(Reader& reader, const TomlNode& item, const Kind& own) {
  std::vector<std::string_view> owners;
  for (const Kind& kind : kinds) {
    if (has_word(kind.keys, item.key)) owners.push_back(kind.name);
  }
  reader.report({.code = "piece.key-of-other-kind",
                 .at = item.key_at,
                 .message = fmt::format("a joint of kind {} has no key `{}`", own.name, item.key),
                 .hint = fmt::format("`{}` belongs to {}", item.key, fmt::join(owners, ", "))});
}

std::vector<std::string> keys_known(const Kind* kind) {
  std::vector<std::string> names;
  for (const Key<JointDecl>& known : joint_keys) {
    if (kind == nullptr || may_have(*kind, known.name)) names.emplace_back(known.name);
  }
  return names;
}

// The boards a joint joins: two, or one for the kinds that may stand in one board alone.
void check_count(Reader& reader, const TomlNode& table, const Kind& kind, const JointDecl& joint) {
  const TomlNode* of = table.find("of");
  const bool may_be_alone = !kind.needs_alone.empty();
  if (of == nullptr || joint.of.empty() || joint.of.size() == 2) return;
  if (joint.of.size() == 1 && may_be_alone) return;
  reader.report(
      {.code = "piece.wrong-count",
       .at = of->at,
       .message = fmt::format("a joint of kind {} is `of` two boards{}; this list has {}",
                              kind.name, may_be_alone ? ", or one" : "", joint.of.size())});
}

void miss_kind_keys(Reader& reader, const TomlNode& table, const Kind& kind, bool is_alone) {
  const std::string_view needs = is_alone ? kind.needs_alone : kind.needs;
  for (const Key<JointDecl>& known : joint_keys) {
    if (!has_word(needs, known.name) || table.find(known.name) != nullptr) continue;
    reader.missing_key(table, fmt::format("{} is a {}{} and does not say its `{}`", reader.owner,
                                          kind.name, is_alone ? " in one board" : "", known.name));
  }
}

}  // namespace

bool read_joint(Reader& reader, const TomlNode& table, JointDecl& into) {
  const Kind* kind = kind_of(reader, table);
  if (kind != nullptr) into.kind = kind->kind;
  for (const TomlNode& item : table.items) {
    const Key<JointDecl>* found = find_key<JointDecl>(joint_keys, item.key);
    if (found == nullptr)
      unknown_key(reader, item, keys_known(kind));
    else if (kind != nullptr && !may_have(*kind, item.key))
      key_of_other_kind(reader, item, *kind);
    else if (kind != nullptr || found->read != take_offset)
      read_key(reader, item, *found, into);
  }
  miss_keys<JointDecl>(reader, table, joint_keys);
  if (kind == nullptr) return false;
  into.kind_at = inside_of(*table.find("kind"), reader.content()).at;
  check_count(reader, table, *kind, into);
  miss_kind_keys(reader, table, *kind, into.of.size() == 1);
  return true;
}

void add_joint_keys(std::vector<KeyTable>& into) {
  for (const Kind& kind : kinds) {
    KeyTable table{.name = fmt::format("joint.{}", kind.name)};
    for (const Key<JointDecl>& known : joint_keys) {
      if (!may_have(kind, known.name)) continue;
      const bool is_needed = known.is_needed || has_word(kind.needs, known.name);
      const bool is_offset = known.name == "offset";
      const std::string_view offset = kind.kind == JointKind::tenon ? "two-formulas" : "formula";
      table.keys.push_back(
          {std::string(known.name), std::string(is_offset ? offset : known.takes), is_needed});
    }
    into.push_back(std::move(table));
  }
}

}  // namespace kw::reading
