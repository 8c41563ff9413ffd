// docs/piece-file.md, docs/piece-file.schema.json and the reader know the same keys.
#include "kerfwright/piece/keys.h"

#include <fstream>
#include <gtest/gtest.h>
#include <iterator>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <toml++/toml.h>

#include "kerfwright/lumber/catalogue.h"
#include "kerfwright/piece/resolved.h"

#include "reading.h"

namespace kw {
namespace {

using Json = nlohmann::json;
using Keys = std::map<std::string, std::set<std::string>>;

std::string file_of(const std::string& path) {
  std::ifstream file(std::string(KW_SOURCE_DIR) + "/" + path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

const Json& schema() {
  static const Json parsed = Json::parse(file_of("docs/piece-file.schema.json"));
  return parsed;
}

const Json& schema_of(const std::string& table) {
  return table == "file" ? schema() : schema().at("$defs").at(table);
}

// The properties of a table's schema with those it takes over by allOf.
Json properties_of(const Json& table) {
  Json properties = table.value("properties", Json::object());
  if (!table.contains("allOf")) return properties;
  for (const Json& part : table.at("allOf")) {
    if (!part.contains("$ref")) continue;
    const auto name = part.at("$ref").get<std::string>().substr(std::string("#/$defs/").size());
    const Json shared = properties_of(schema_of(name));
    for (const auto& [key, value] : shared.items()) {
      if (!properties.contains(key))
        properties[key] = value;
      else
        properties[key].update(value);
    }
  }
  return properties;
}

std::set<std::string> needed_in(const Json& table) {
  std::set<std::string> needed;
  for (const Json& key : table.value("required", Json::array())) needed.insert(key);
  if (!table.contains("allOf")) return needed;
  for (const Json& part : table.at("allOf")) {
    if (part.value("$ref", "") == "#/$defs/joint-of-any-kind") {
      needed.merge(needed_in(schema_of("joint-of-any-kind")));
    }
  }
  return needed;
}

// What the schema of a key says stands behind it, in the words of KeyFact::takes.
std::string takes_in(const Json& property, const std::string& key) {
  if (property.contains("const")) return "kind";
  if (property.contains("additionalProperties")) {
    const bool is_own = property.at("additionalProperties").at("$ref") == "#/$defs/" + key;
    return is_own ? "declarations" : "declarations of another kind";
  }
  return property.value("$ref", "#/$defs/?").substr(std::string("#/$defs/").size());
}

TEST(PieceKeys, TheSchemaHasTheSameKeysTypesAndNeeds) {
  for (const KeyTable& table : piece_keys()) {
    const Json& described = schema_of(table.name);
    const Json properties = properties_of(described);
    const std::set<std::string> needed = needed_in(described);
    EXPECT_EQ(properties.size(), table.keys.size()) << table.name;
    for (const KeyFact& key : table.keys) {
      ASSERT_TRUE(properties.contains(key.name)) << table.name << "." << key.name;
      EXPECT_EQ(takes_in(properties.at(key.name), key.name), key.takes)
          << table.name << "." << key.name;
      EXPECT_EQ(needed.count(key.name) == 1, key.is_needed) << table.name << "." << key.name;
    }
    const bool is_closed = described.value("additionalProperties", true) == false ||
                           described.value("unevaluatedProperties", true) == false;
    EXPECT_TRUE(is_closed) << table.name << " lets unknown keys pass";
  }
}

TEST(PieceKeys, TheSchemaHasNoTableThatTheReaderDoesNotKnow) {
  std::set<std::string> known = {"joint-of-any-kind"};
  for (const KeyTable& table : piece_keys()) known.insert(table.name);
  for (const auto& [name, described] : schema().at("$defs").items()) {
    EXPECT_TRUE(!described.contains("properties") || known.count(name) == 1) << name;
  }
}

TEST(PieceKeys, TheSchemaRefersToNothingThatIsNotThere) {
  const std::string text = schema().dump();
  for (std::size_t at = text.find("#/$defs/"); at != std::string::npos;
       at = text.find("#/$defs/", at + 1)) {
    const std::size_t begin = at + std::string("#/$defs/").size();
    const std::string name = text.substr(begin, text.find('"', begin) - begin);
    EXPECT_TRUE(schema().at("$defs").contains(name)) << name;
  }
}

// The TOML blocks of docs/piece-file.md, each a whole file.
std::vector<Text> snippets() {
  const std::string page = file_of("docs/piece-file.md");
  const std::string fence = "```toml\n";
  std::vector<Text> texts;
  for (std::size_t at = page.find(fence); at != std::string::npos; at = page.find(fence, at + 1)) {
    const std::size_t begin = at + fence.size();
    const std::string block = page.substr(begin, page.find("```\n", begin) - begin);
    texts.push_back(block.starts_with("format =") ? Text{"snippet", block}
                                                  : testing_piece::piece(block));
  }
  return texts;
}

TEST(PieceKeys, EveryExampleOfTheGrammarIsReadWithoutAFault) {
  const std::vector<Text> texts = snippets();
  EXPECT_GE(texts.size(), 10U);
  for (const Text& text : texts) {
    const Reading<Document> reading = read_piece(text);
    EXPECT_TRUE(reading.diagnostics.empty()) << render(text, reading.diagnostics);
  }
}

// Joints and loads are shown without the boards they join and stand on.
TEST(PieceKeys, EveryExampleThatIsAWholePieceWorksOut) {
  std::size_t whole = 0;
  for (const Text& text : snippets()) {
    const bool is_part = text.content.find("\n[joint.") != std::string::npos ||
                         text.content.find("\n[load.") != std::string::npos;
    if (is_part) continue;
    ++whole;
    const auto resolved = resolve(read_piece(text).value, built_in_catalogue());
    EXPECT_FALSE(has_errors(resolved.diagnostics)) << render(text, resolved.diagnostics);
  }
  EXPECT_GE(whole, 10U);
}

// Walks a file by what the reader says stands behind each key and notes which keys it has where. It
// knows toml++ and piece_keys(), nothing of the reader's code.
class Walker {
 public:
  explicit Walker(Keys& seen) : seen_(seen) {
    for (const KeyTable& table : piece_keys()) {
      for (const KeyFact& key : table.keys) takes_[table.name][key.name] = key.takes;
    }
  }

  void walk(const toml::table& table, const std::string& name) {
    for (const auto& [key, value] : table) {
      const std::string word(key.str());
      seen_[name].insert(word);
      walk_value(value, word, takes_[name][word]);
    }
  }

 private:
  void walk_value(const toml::node& value, const std::string& key, const std::string& takes) {
    if (takes == "declarations") return walk_each(*value.as_table(), key);
    if (takes == "formulas" || takes == "points") return;
    const std::string inner = takes == "outline"     ? "outline-step"
                              : takes == "buy"       ? "buy-item"
                              : takes == "have"      ? "have-item"
                              : takes == "end"       ? "end-table"
                              : takes == "direction" ? "direction-table"
                                                     : takes;
    if (const auto* table = value.as_table()) walk(*table, inner);
    if (const auto* list = value.as_array()) {
      for (const toml::node& item : *list) {
        if (const auto* table = item.as_table()) walk(*table, inner);
      }
    }
  }

  void walk_each(const toml::table& declarations, const std::string& kind) {
    for (const auto& [name, value] : declarations) {
      const toml::table& table = *value.as_table();
      walk(table, kind == "joint" ? "joint." + *table["kind"].value<std::string>() : kind);
    }
  }

  Keys& seen_;
  std::map<std::string, std::map<std::string, std::string>> takes_ = {};
};

TEST(PieceKeys, TheGrammarHasAnExampleOfEveryKey) {
  Keys seen;
  Walker walker(seen);
  for (const Text& text : snippets()) walker.walk(toml::parse(text.content), "file");
  std::set<std::string> any_joint;
  for (const auto& [table, keys] : seen) {
    if (table.starts_with("joint.")) any_joint.insert(keys.begin(), keys.end());
  }
  for (const KeyTable& table : piece_keys()) {
    const bool is_joint = table.name.starts_with("joint.");
    EXPECT_TRUE(!is_joint || seen.count(table.name) == 1) << "no example of " << table.name;
    for (const KeyFact& key : table.keys) {
      const auto& there = is_joint ? any_joint : seen[table.name];
      EXPECT_EQ(there.count(key.name), 1U) << "no example of " << table.name << "." << key.name;
    }
  }
}

}  // namespace
}  // namespace kw
