#include "random_toml.h"

#include <fmt/format.h>
#include <set>

namespace kw::testing_piece {
namespace {

template <class T>
T one_of(const std::vector<T>& choices) {
  return *rc::gen::elementOf(choices);
}

bool happens(int times_in_ten) {
  return *rc::gen::inRange(0, 10) < times_in_ten;
}

std::string blanks() {
  return one_of<std::string>({"", " ", "  ", "\t"});
}

std::string scalar() {
  return one_of<std::string>({"1", "-2.5", "true", "\"30 1/2\"", "'29 11/16\"'",
                              "\"é \\\"x\\\" ü\"", "\"# no comment\"", "'椅子 🪑'", "\"a, b]\"",
                              "\"\"", "1979-05-27", "'''a 'b' c'''", "\"\"\"one\ntwo # x\"\"\"",
                              "0x1F", "'}'"});
}

std::string braces(int depth);

std::string list(int depth) {
  const int count = *rc::gen::inRange(0, 4);
  const bool is_long = happens(4);
  std::string out = "[";
  for (int i = 0; i < count; ++i) {
    if (is_long && happens(8)) out += happens(3) ? " # ], é\n  " : "\n  ";
    out += blanks();
    out += depth > 0 && happens(3) ? (happens(5) ? list(depth - 1) : braces(depth - 1)) : scalar();
    out += blanks();
    if (i + 1 < count || (is_long && happens(5))) out += ",";
  }
  return out + (is_long ? (happens(3) ? " # end\n" : "\n") : blanks()) + "]";
}

std::string value(int depth) {
  if (depth == 0 || happens(5)) return scalar();
  return happens(6) ? list(depth - 1) : braces(depth - 1);
}

// Keys of one table, none twice; the dotted ones share their first parts.
class Keys {
 public:
  // A key, with `.b` behind it in places; "" when the one drawn was there before.
  std::string draw() {
    static const std::vector<std::string> plain = {"a", "b-c", "d_1", "\"é f\"", "'g.h'", "i"};
    const std::string first = one_of(plain);
    if (!happens(3)) return keep(first, first);
    const std::string second = one_of(plain);
    if (single_.count(first) != 0) return {};
    dotted_.insert(first);
    return keep(first + "." + second, first + blanks() + "." + blanks() + second);
  }

 private:
  std::string keep(const std::string& name, const std::string& written) {
    const bool is_single = name == written;
    if (is_single && dotted_.count(name) != 0) return {};
    if (!seen_.insert(name).second) return {};
    if (is_single) single_.insert(name);
    return written;
  }

  std::set<std::string> seen_ = {}, single_ = {}, dotted_ = {};
};

std::string braces(int depth) {
  Keys keys;
  std::string out = "{";
  const int count = *rc::gen::inRange(0, 4);
  bool is_first = true;
  for (int i = 0; i < count; ++i) {
    const std::string key = keys.draw();
    if (key.empty()) continue;
    if (!is_first) out += ",";
    is_first = false;
    out += blanks() + key + blanks() + "=" + blanks() + value(depth) + blanks();
  }
  return out + blanks() + "}";
}

std::string line_end() {
  return one_of<std::string>({"\n", "\n", "\n", " # é, [x]\n", "\t#\n", "\n\n", "\n# own line\n"});
}

std::string lines() {
  Keys keys;
  std::string out;
  const int count = *rc::gen::inRange(0, 5);
  for (int i = 0; i < count; ++i) {
    const std::string key = keys.draw();
    if (key.empty()) continue;
    out += blanks() + key + blanks() + "=" + blanks() + value(2) + blanks() + line_end();
  }
  return out;
}

// Headers whose tables no line of another can make: each starts with letters of its own.
std::string tables() {
  std::string out;
  const int count = *rc::gen::inRange(0, 5);
  for (int i = 0; i < count; ++i) {
    const std::string family = fmt::format("t{}", *rc::gen::inRange(0, 2));
    if (happens(2)) out += "\n# about what follows\n";
    const std::string tail = one_of<std::string>({"", ".sub", ".\"ü x\"", ".sub.deep"});
    out += fmt::format("[{}-{}{}]{}{}", family, i, tail, line_end(), lines());
    if (happens(3)) out += fmt::format("[{}-{}{}.more]{}{}", family, i, tail, line_end(), lines());
    if (happens(2)) {
      out += fmt::format("[[l{}]]{}{}", i, line_end(), lines());
      out += fmt::format("[[l{}]]{}{}[l{}.sub-of-it]{}{}", i, line_end(), lines(), i, line_end(),
                         lines());
    }
  }
  return out;
}

std::string with_long_line_ends(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '\n') out += '\r';
    out += c;
  }
  return out;
}

}  // namespace

rc::Gen<std::string> random_value() {
  return rc::gen::exec([] { return value(2); });
}

rc::Gen<std::string> random_file() {
  return rc::gen::exec([] {
    std::string text = (happens(2) ? "# a file\n\n" : "") + lines() + tables();
    while (happens(3) && text.ends_with('\n')) text.pop_back();
    if (happens(3)) text = with_long_line_ends(text);
    return happens(2) ? "\xEF\xBB\xBF" + text : text;
  });
}

}  // namespace kw::testing_piece
