#include "tables.h"

#include <charconv>
#include <fmt/format.h>
#include <optional>

#include "kerfwright/diag/utf8.h"

#include "delta.h"

namespace kw::storing {

namespace {

std::vector<Table> tables_of_pieces() {
  using enum Holds;
  return {
      {"piece", {{"id", number}, {"name", text}, {"saved", number}}},
      {"revision",
       {{"piece", number},
        {"number", number},
        {"at", number},
        {"kind", number},
        {"words", text},
        {"joined", text},
        {"delta", change},
        {"whole", bytes}},
       2,
       64},
      {"tick",
       {{"number", number},
        {"piece", number},
        {"id", text},
        {"cut", text},
        {"did", text},
        {"words", text},
        {"at", text}}},
  };
}

std::vector<Table> tables_of_the_shop() {
  using enum Holds;
  return {
      {"log", {{"name", text}, {"newest", number}}},
      {"record", {{"log", text}, {"number", number}, {"at", number}, {"bytes", bytes}}, 2, 64},
      {"job",
       {{"id", text},
        {"kind", text},
        {"state", number},
        {"at", number},
        {"attempts", number},
        {"taker", text},
        {"until", number},
        {"ended", number},
        {"given", bytes},
        {"made", bytes},
        {"asker", text}},
       1,
       4},
  };
}

std::vector<Table> tables_of_buyers() {
  using enum Holds;
  return {
      {"published",
       {{"name", text},
        {"version", number},
        {"at", number},
        {"title", text},
        {"text", bytes},
        {"terms", bytes},
        {"offered", number}},
       2,
       16},
      {"published_size",
       {{"name", text},
        {"version", number},
        {"place", number},
        {"size", text},
        {"least", text},
        {"most", text}},
       3},
  };
}

}  // namespace

const std::vector<Table>& tables() {
  static const std::vector<Table> all = [] {
    std::vector<Table> made = tables_of_pieces();
    for (const auto& more : {tables_of_the_shop(), tables_of_buyers()})
      made.insert(made.end(), more.begin(), more.end());
    return made;
  }();
  return all;
}

namespace {

void write_bytes(std::string& out, std::string_view bytes) {
  if (first_not_utf8(bytes) != std::string_view::npos) {
    out += "{\"hex\":\"";
    for (const char byte : bytes)
      fmt::format_to(std::back_inserter(out), "{:02x}", static_cast<unsigned char>(byte));
    out += "\"}";
    return;
  }
  out += '"';
  for (const char c : bytes) {
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (c == '\n') {
      out += "\\n";
    } else if (static_cast<unsigned char>(c) < 0x20) {
      fmt::format_to(std::back_inserter(out), "\\u{:04x}", static_cast<unsigned char>(c));
    } else {
      out += c;
    }
  }
  out += '"';
}

void write_change(std::string& out, const Delta& delta) {
  out += '[';
  for (const Replaced& replaced : delta) {
    if (out.back() != '[') out += ',';
    fmt::format_to(std::back_inserter(out), "[{},", replaced.begin);
    write_bytes(out, replaced.was);
    out += ',';
    write_bytes(out, replaced.now);
    out += ']';
  }
  out += ']';
}

void write_cell(std::string& out, Holds holds, const Cell& cell) {
  if (cell.is_null) {
    out += "null";
  } else if (holds == Holds::number) {
    fmt::format_to(std::back_inserter(out), "{}", cell.number);
  } else {
    const auto delta = holds == Holds::change ? unpacked(cell.bytes) : std::nullopt;
    if (delta)
      write_change(out, *delta);
    else
      write_bytes(out, cell.bytes);
  }
}

std::optional<unsigned> hex_digit(char c) {
  if (c >= '0' && c <= '9') return static_cast<unsigned>(c - '0');
  if (c >= 'a' && c <= 'f') return static_cast<unsigned>(c - 'a' + 10);
  if (c >= 'A' && c <= 'F') return static_cast<unsigned>(c - 'A' + 10);
  return std::nullopt;
}

void put_utf8(std::string& out, std::uint32_t point) {
  const auto put = [&out](std::uint32_t byte) { out += static_cast<char>(byte); };
  if (point < 0x80) {
    put(point);
  } else if (point < 0x800) {
    put(0xC0 | point >> 6);
    put(0x80 | (point & 0x3F));
  } else if (point < 0x10000) {
    put(0xE0 | point >> 12);
    put(0x80 | (point >> 6 & 0x3F));
    put(0x80 | (point & 0x3F));
  } else {
    put(0xF0 | point >> 18);
    put(0x80 | (point >> 12 & 0x3F));
    put(0x80 | (point >> 6 & 0x3F));
    put(0x80 | (point & 0x3F));
  }
}

// What remains of a line. The first that does not fit is noted in `why`; all that follows fails.
struct Line {
  std::string_view rest = {};
  std::string why = {};

  bool fail(std::string_view expected) {
    if (why.empty())
      why = fmt::format("expected {}, {} bytes before the end of the line", expected, rest.size());
    return false;
  }
  void skip_blanks() {
    while (!rest.empty() && (rest[0] == ' ' || rest[0] == '\t')) rest.remove_prefix(1);
  }
  bool takes(std::string_view token) {
    skip_blanks();
    if (!rest.starts_with(token)) return false;
    rest.remove_prefix(token.size());
    return true;
  }
  bool must(std::string_view token) { return takes(token) || fail(fmt::format("`{}`", token)); }
  bool number(std::int64_t& value) {
    skip_blanks();
    const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), value);
    if (error != std::errc()) return fail("a whole number");
    rest.remove_prefix(static_cast<std::size_t>(end - rest.data()));
    return true;
  }
  bool unit(std::uint32_t& value) {
    if (rest.size() < 4) return fail("four hexadecimal digits");
    value = 0;
    for (int i = 0; i < 4; ++i) {
      const auto digit = hex_digit(rest[static_cast<std::size_t>(i)]);
      if (!digit) return fail("four hexadecimal digits");
      value = value << 4 | *digit;
    }
    rest.remove_prefix(4);
    return true;
  }
  // Behind `\u`.
  bool point(std::string& out) {
    std::uint32_t high = 0, low = 0;
    if (!unit(high)) return false;
    if (high >= 0xDC00 && high < 0xE000) return fail("the first half of a pair");
    if (high >= 0xD800 && high < 0xDC00) {
      if (!rest.starts_with("\\u")) return fail("the second half of a pair");
      rest.remove_prefix(2);
      if (!unit(low)) return false;
      if (low < 0xDC00 || low >= 0xE000) return fail("the second half of a pair");
      high = 0x10000 + ((high - 0xD800) << 10) + (low - 0xDC00);
    }
    put_utf8(out, high);
    return true;
  }
  // Behind `\`.
  bool escaped(std::string& out) {
    constexpr std::string_view letters = "\"\\/bfnrt", meant = "\"\\/\b\f\n\r\t";
    if (rest.starts_with('u')) {
      rest.remove_prefix(1);
      return point(out);
    }
    const std::size_t at = rest.empty() ? letters.npos : letters.find(rest[0]);
    if (at == letters.npos) return fail("an escape");
    out += meant[at];
    rest.remove_prefix(1);
    return true;
  }
  bool string(std::string& out) {
    if (!must("\"")) return false;
    for (;;) {
      const std::size_t end = rest.find_first_of("\"\\");
      if (end == rest.npos) return fail("the end of a string");
      out += rest.substr(0, end);
      const char stop = rest[end];
      rest.remove_prefix(end + 1);
      if (stop == '"') return true;
      if (!escaped(out)) return false;
    }
  }
  bool hex(std::string& out) {
    std::string digits;
    if (!must("{") || !must("\"hex\"") || !must(":") || !string(digits) || !must("}")) return false;
    if (digits.size() % 2 != 0) return fail("an even number of digits");
    for (std::size_t i = 0; i < digits.size(); i += 2) {
      const auto high = hex_digit(digits[i]), low = hex_digit(digits[i + 1]);
      if (!high || !low) return fail("hexadecimal digits");
      out += static_cast<char>(*high << 4 | *low);
    }
    return true;
  }
  bool bytes(std::string& out) {
    skip_blanks();
    return rest.starts_with('{') ? hex(out) : string(out);
  }
  bool change(Delta& delta) {
    if (!must("[")) return false;
    if (takes("]")) return true;
    do {
      std::int64_t begin = 0;
      Replaced& replaced = delta.emplace_back();
      if (!must("[") || !number(begin) || !must(",") || !bytes(replaced.was) || !must(",") ||
          !bytes(replaced.now) || !must("]"))
        return false;
      if (begin < 0 || begin > UINT32_MAX) return fail("a place in a text");
      replaced.begin = static_cast<std::uint32_t>(begin);
    } while (takes(","));
    return must("]");
  }
  bool value(Holds holds, Value& into) {
    if (takes("null")) return true;
    if (holds == Holds::number) return number(into.emplace<std::int64_t>());
    if (holds == Holds::text) return bytes(into.emplace<std::string>());
    skip_blanks();
    if (holds == Holds::bytes || !rest.starts_with('[')) return bytes(into.emplace<Blob>().bytes);
    Delta delta;
    const bool is_read = change(delta);
    into.emplace<Blob>().bytes = packed(delta);
    return is_read;
  }
};

}  // namespace

std::string line_of(const Table& table, const Row& row) {
  std::string out = "{";
  for (std::size_t i = 0; i < row.size(); ++i) {
    fmt::format_to(std::back_inserter(out), "{}\"{}\":", i == 0 ? "" : ",", table.columns[i].name);
    write_cell(out, table.columns[i].holds, row[i]);
  }
  out += '}';
  return out;
}

Outcome<std::vector<Value>> values_of(const Table& table, std::string_view text) {
  Line line{text};
  std::vector<Value> values;
  bool is_read = first_not_utf8(text) == std::string_view::npos || line.fail("UTF-8");
  is_read = is_read && line.must("{");
  for (const Column& column : table.columns) {
    is_read = is_read && (values.empty() || line.must(",")) &&
              line.must(fmt::format("\"{}\"", column.name)) && line.must(":") &&
              line.value(column.holds, values.emplace_back());
  }
  is_read = is_read && line.must("}");
  line.skip_blanks();
  if (is_read && !line.rest.empty()) line.fail("the end of the line");
  if (line.why.empty()) return values;
  return Diagnostic{.code = "store.bad-export", .message = line.why};
}

}  // namespace kw::storing
