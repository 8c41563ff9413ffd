#include "figures.h"

namespace kw {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

}  // namespace

bool is_within_figure(const std::string& text, std::size_t at) {
  if (text[at] != ' ' || at == 0 || !is_digit(text[at - 1])) return false;
  if (text.compare(at + 1, 2, "mm") == 0) return true;
  std::size_t end = at + 1;
  while (end < text.size() && is_digit(text[end])) ++end;
  return end > at + 1 && end < text.size() && text[end] == '/';
}

}  // namespace kw
