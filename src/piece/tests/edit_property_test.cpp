// Random files, random edits: the edit does what it says, nothing else changes, and its inverse
// brings every byte back. The judge of what a file means is toml++, read here apart from the
// module.
#include <fmt/format.h>
#include <gtest/gtest.h>
#include <map>
#include <rapidcheck/gtest.h>
#include <sstream>
#include <toml++/toml.h>

#include "kerfwright/piece/edit.h"

#include "random_toml.h"

namespace kw {
namespace {

using testing_piece::Path;

// Every value of a file that holds no other, by its path; an empty list or table counts as one.
using Values = std::map<Path, std::string>;

template <class T>
std::string printed(const T& value) {
  std::ostringstream out;
  out << value;
  return out.str();
}

void flatten(const toml::node& node, Path& path, Values& into) {
  const auto below = [&](std::string part, const toml::node& child) {
    path.push_back(std::move(part));
    flatten(child, path, into);
    path.pop_back();
  };
  if (const auto* table = node.as_table()) {
    for (const auto& [key, value] : *table) below(std::string(key.str()), value);
    if (table->empty() && !path.empty()) into[path] = "{}";
  } else if (const auto* list = node.as_array()) {
    for (std::size_t i = 0; i < list->size(); ++i) below(std::to_string(i), (*list)[i]);
    if (list->empty()) into[path] = "[]";
  } else {
    node.visit([&](const auto& value) { into[path] = printed(value); });
  }
}

Values values_of(const std::string& content) {
  Values values;
  Path path;
  const toml::table root = toml::parse(content);
  flatten(root, path, values);
  return values;
}

bool starts_with(const Path& path, const Path& prefix) {
  return path.size() >= prefix.size() && std::equal(prefix.begin(), prefix.end(), path.begin());
}

Values without(Values values, const Path& prefix) {
  std::erase_if(values, [&](const auto& entry) { return starts_with(entry.first, prefix); });
  return values;
}

// Values under `prefix` alone, as if they stood at the root.
Values under(const Values& values, const Path& prefix) {
  Values out;
  for (const auto& [path, value] : values) {
    if (starts_with(path, prefix)) {
      out[Path(path.begin() + static_cast<std::ptrdiff_t>(prefix.size()), path.end())] = value;
    }
  }
  return out;
}

Values values_of_one(const std::string& toml) {
  return under(values_of("v = " + toml), {"v"});
}

// Applies an edit that must succeed, and checks the way back.
std::string applied(const Text& text, const Outcome<TextEdit>& edit) {
  if (!edit) RC_FAIL(text.content + "\n---\n" + render(text, edit.diagnostics()));
  const auto after = apply(text, *edit);
  RC_ASSERT(static_cast<bool>(after));
  const auto back = apply(*after, inverse_of(text, *edit));
  RC_ASSERT(static_cast<bool>(back));
  RC_ASSERT(back->content == text.content);
  return after->content;
}

Path any_path(const Values& values) {
  RC_PRE(!values.empty());
  auto chosen = values.begin();
  std::advance(chosen, *rc::gen::inRange<std::ptrdiff_t>(0, std::ssize(values)));
  return chosen->first;
}

// The one thing that counts as a value here and cannot be set.
bool is_empty_table_with_header(const Outcome<TextEdit>& edit, const std::string& value) {
  return !edit && value == "{}" &&
         edit.diagnostics()[0].code == std::string_view("edit.not-a-value");
}

RC_GTEST_PROP(EditProperty, ASetValueIsReadBackAndAllOthersStay, ()) {
  const Text text{"a.toml", *testing_piece::random_file()};
  const Values before = values_of(text.content);
  const Path path = any_path(before);
  const std::string toml = *testing_piece::random_value();
  const auto edit = set_value(text, path, toml);
  if (is_empty_table_with_header(edit, before.at(path))) RC_DISCARD("no value");
  const std::string after = applied(text, edit);
  const Values now = values_of(after);
  RC_ASSERT(without(now, path) == without(before, path));
  RC_ASSERT(under(now, path) == values_of_one(toml));
  const auto at = find_value({"a.toml", after}, path);
  RC_ASSERT(static_cast<bool>(at));
  RC_ASSERT(after.substr(at->begin, at->end - at->begin) == toml);
}

RC_GTEST_PROP(EditProperty, ARemovedValueIsGoneAndAllOthersStay, ()) {
  const Text text{"a.toml", *testing_piece::random_file()};
  const Values before = values_of(text.content);
  Path path = any_path(before);
  path.resize(*rc::gen::inRange<std::size_t>(1, path.size() + 1));
  const auto edit = remove_value(text, path);
  Values now = values_of(applied(text, edit));
  const Path parent(path.begin(), path.end() - 1);
  const std::string last = path.back();
  Values wanted = without(before, path);
  const bool is_item = last.find_first_not_of("0123456789") == std::string::npos;
  if (is_item) {  // the items behind it move up
    for (std::size_t i = std::stoul(last);; ++i) {
      Path here = parent, next = parent;
      here.push_back(std::to_string(i));
      next.push_back(std::to_string(i + 1));
      const Values moved = under(before, next);
      if (moved.empty()) break;
      wanted = without(wanted, next);
      for (const auto& [tail, value] : moved) {
        Path whole = here;
        whole.insert(whole.end(), tail.begin(), tail.end());
        wanted[whole] = value;
      }
    }
  }
  // What holds nothing any more may stay as {} or [] or go.
  std::erase_if(now,
                [](const auto& entry) { return entry.second == "{}" || entry.second == "[]"; });
  std::erase_if(wanted,
                [](const auto& entry) { return entry.second == "{}" || entry.second == "[]"; });
  RC_ASSERT(now == wanted);
}

RC_GTEST_PROP(EditProperty, AnAddedValueIsReadBackAndAllOthersStay, ()) {
  const Text text{"a.toml", *testing_piece::random_file()};
  const Values before = values_of(text.content);
  Path table = any_path(before);
  table.resize(*rc::gen::inRange<std::size_t>(0, table.size()));
  const std::string toml = *testing_piece::random_value();
  const auto edit = add_value(text, table, "new-key", toml);
  if (!edit) {  // only where there is no table to add to
    RC_ASSERT(edit.diagnostics()[0].code == std::string_view("edit.not-a-table"));
    const auto at = find_value(text, table);
    RC_ASSERT((at && text.content[at->begin] == '['));
    RC_DISCARD("a list");
  }
  const Values now = values_of(applied(text, edit));
  Path path = table;
  path.push_back("new-key");
  RC_ASSERT(without(now, path) == without(before, table.empty() ? Path{"new-key"} : path));
  RC_ASSERT(under(now, path) == values_of_one(toml));
}

RC_GTEST_PROP(EditProperty, ATableThatIsNotThereIsMadeAndAllOthersStay, ()) {
  const Text text{"a.toml", *testing_piece::random_file()};
  const Values before = values_of(text.content);
  const std::string toml = *testing_piece::random_value();
  const std::string after = applied(text, add_value(text, {"new-table", "ä"}, "key", toml));
  const Path path = {"new-table", "ä", "key"};
  const Values now = values_of(after);
  RC_ASSERT(without(now, path) == before);
  RC_ASSERT(under(now, path) == values_of_one(toml));
}

RC_GTEST_PROP(EditProperty, ManyEditsAreUndoneInTurn, ()) {
  Text text{"a.toml", *testing_piece::random_file()};
  const std::string first = text.content;
  std::vector<TextEdit> undo;
  for (int i = 0; i < 6; ++i) {
    const Values values = values_of(text.content);
    if (values.empty()) break;
    const Path path = any_path(values);
    const bool sets = *rc::gen::arbitrary<bool>();
    const auto edit =
        sets ? set_value(text, path, *testing_piece::random_value()) : remove_value(text, path);
    if (is_empty_table_with_header(edit, values.at(path))) continue;
    RC_ASSERT(static_cast<bool>(edit));
    undo.push_back(inverse_of(text, *edit));
    text = *apply(text, *edit);
  }
  for (auto edit = undo.rbegin(); edit != undo.rend(); ++edit) text = *apply(text, *edit);
  RC_ASSERT(text.content == first);
}

}  // namespace
}  // namespace kw
