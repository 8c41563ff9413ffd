#include "names.h"

#include <algorithm>

namespace kw::lumber {
namespace {

constexpr std::string_view separators = " \t-,()#\"";
constexpr std::string_view times_sign = "\xC3\x97";

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

bool has_digit(std::string_view word) {
  return std::any_of(word.begin(), word.end(), is_digit);
}

char small_letter(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

std::vector<std::string> parted(std::string_view name) {
  std::vector<std::string> words;
  std::string word;
  for (std::size_t i = 0; i < name.size(); ++i) {
    if (separators.find(name[i]) != std::string_view::npos) {
      if (!word.empty()) words.push_back(std::move(word));
      word.clear();
    } else if (name.substr(i).starts_with(times_sign)) {
      word += 'x';
      ++i;
    } else {
      word += small_letter(name[i]);
    }
  }
  if (!word.empty()) words.push_back(std::move(word));
  return words;
}

// `1/4`, and `5/8x5` too: what may follow a whole number to make a mixed one.
bool begins_with_fraction(std::string_view word) {
  const auto digits = std::find_if_not(word.begin(), word.end(), is_digit);
  return digits != word.begin() && digits != word.end() && *digits == '/';
}

// Whether the last figure of a word is a whole number: `8x1`, but not `8x1/4` nor `m`.
bool ends_with_whole(std::string_view word) {
  const auto last = word.find_last_not_of("0123456789");
  if (last == std::string_view::npos) return true;
  return last + 1 < word.size() && word[last] != '/' && word[last] != '.';
}

// A word that ends as a figure does, or with the `x` between two.
bool ends_open(std::string_view word) {
  return word.size() > 1 && word.back() == 'x' && is_digit(word[word.size() - 2]);
}

// What goes between two words to make them one size; nothing fits when they are two words.
const char* link_between(std::string_view before, std::string_view after) {
  if (before.empty()) return nullptr;
  if (is_digit(before.back()) && after.front() == 'x' &&
      (after.size() == 1 || is_digit(after[1]))) {
    return "";
  }
  if (ends_open(before) && is_digit(after.front())) return "";
  if (ends_with_whole(before) && begins_with_fraction(after)) return "-";
  return nullptr;
}

}  // namespace

std::vector<std::string> words_of(std::string_view name) {
  std::vector<std::string> words;
  for (std::string& word : parted(name)) {
    const char* link = words.empty() ? nullptr : link_between(words.back(), word);
    if (link == nullptr) {
      words.push_back(std::move(word));
    } else {
      words.back() += link + word;
    }
  }
  return words;
}

std::string key_of(std::string_view name) {
  std::vector<std::string> words = words_of(name);
  std::sort(words.begin(), words.end());
  std::string key;
  for (const std::string& word : words) key += (key.empty() ? "" : " ") + word;
  return key;
}

bool holds_word(std::string_view word_of_name, std::string_view word_of_query) {
  if (!has_digit(word_of_query)) return word_of_name.find(word_of_query) != std::string_view::npos;
  if (word_of_name == word_of_query) return true;
  if (word_of_name.size() <= word_of_query.size() + 1) return false;
  const auto rest = word_of_name.size() - word_of_query.size();
  return (word_of_name.starts_with(word_of_query) && word_of_name[word_of_query.size()] == 'x') ||
         (word_of_name.ends_with(word_of_query) && word_of_name[rest - 1] == 'x');
}

}  // namespace kw::lumber
