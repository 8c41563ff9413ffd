#include "kerfwright/trade/board_code.h"

#include <algorithm>
#include <fmt/format.h>

namespace kw::trade {
namespace {

constexpr std::string_view digits = "0123456789BCDFGHJKMNPQRTVWXYZ";
constexpr int base = 29;
static_assert(digits.size() == base);
constexpr std::size_t shortest = 4, longest = 8;

// What an eye may take for a digit.
char as_digit(char c) {
  if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  if (c == 'O') return '0';
  if (c == 'I' || c == 'L') return '1';
  if (c == 'S') return '5';
  return c;
}

}  // namespace

std::string code_of(int board) {
  int sum = 0, weight = 2;
  std::string code(1, '0');
  for (int rest = board; rest > 0 || code.size() < shortest; rest /= base, ++weight) {
    code.push_back(digits[static_cast<std::size_t>(rest % base)]);
    sum += weight * (rest % base);
  }
  code[0] = digits[static_cast<std::size_t>((base - sum % base) % base)];
  std::reverse(code.begin(), code.end());
  return code;
}

Outcome<int> read_code(std::string_view text, std::uint32_t at) {
  std::int64_t value = 0;
  int sum = 0;
  std::string code;
  for (const char c : text.substr(0, 64))
    if (c != ' ' && c != '-') code.push_back(as_digit(c));
  bool is_code = code.size() >= shortest && code.size() <= longest && text.size() <= 64;
  for (std::size_t i = 0; is_code && i < code.size(); ++i) {
    const std::size_t digit = digits.find(code[i]);
    is_code = digit != digits.npos;
    sum += static_cast<int>((code.size() - i) * digit);
    if (i + 1 < code.size()) value = value * base + static_cast<int>(digit);
  }
  if (is_code && sum % base == 0 && value > 0 && value <= 2'000'000'000)
    return static_cast<int>(value);
  return Diagnostic{.code = "trade.bad-code",
                    .at = {at, static_cast<std::uint32_t>(at + text.size())},
                    .message = fmt::format("`{}` is no board's code", text.substr(0, 64)),
                    .hint = "read the label again: a character is wrong, or two changed places"};
}

}  // namespace kw::trade
