// Places in the file are right to the byte, whatever stands before them on the line.
#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "reading.h"

namespace kw {
namespace {

using namespace testing_piece;

std::string any_of(const std::vector<std::string>& choices) {
  return *rc::gen::elementOf(choices);
}

// A formula of two names in one of the ways a TOML text can be written; all but escapes other than
// \" keep their places.
std::string formula_in_quotes() {
  return any_of({"\"first + second\"", "'first + second'", "\"\"\"first + second\"\"\"",
                 "'''first\n + second'''", "\"3 1/2\\\" + first * 2\\\" - second\"",
                 "'29 ¾″ + first * (second)'", "\"tan(20°)*first -  second\""});
}

std::string letters() {
  return any_of(
      {"", "x", "é", "Höhe", "椅子", "🪑 🪑", "ﬁ ½", "e\xCC\x81", "a long note of only ASCII"});
}

std::string sizes() {
  std::string out;
  const int count = *rc::gen::inRange(1, 8);
  for (int i = 0; i < count; ++i) {
    const std::string note = letters();
    if (*rc::gen::arbitrary<bool>()) {
      out += fmt::format("s{} = {{ note = \"{}\", is = {}, from = {} }} # {}\n", i, note,
                         formula_in_quotes(), formula_in_quotes(), letters());
    } else {
      out += fmt::format("s{0}.note = '{1}' # {1}\ns{0}.is ={2}# é\n  s{0} . from\t= {3}\n", i,
                         note, formula_in_quotes(), formula_in_quotes());
    }
  }
  return out;
}

std::string any_file() {
  std::string content = piece("# " + letters() + "\n[size]\n" + sizes()).content;
  if (*rc::gen::arbitrary<bool>()) {
    for (std::size_t i = 0; (i = content.find('\n', i)) != std::string::npos; i += 2) {
      content.insert(i, "\r");
    }
  }
  return (*rc::gen::arbitrary<bool>() ? "\xEF\xBB\xBF" : "") + content;
}

// A formula whose line break was written as two characters is read as one: its places are near
// only.
bool is_exact(const Text& text, const Formula& formula) {
  return slice(text, formula.at).find('\r') == std::string::npos;
}

void check_formula(const Text& text, const Formula& formula) {
  const auto uses = names_in(formula.expression);
  RC_ASSERT(uses.size() == 2U);
  for (const NameUse& use : uses) {
    if (is_exact(text, formula))
      RC_ASSERT(slice(text, use.at) == use.name);
    else
      RC_ASSERT((use.at.begin >= formula.at.begin && use.at.end <= formula.at.end));
  }
}

RC_GTEST_PROP(Spans, OfNamesAndOfNamesInFormulasAreTheirTexts, ()) {
  const Text text{"a.toml", any_file()};
  const Reading<Document> reading = read_piece(text);
  if (!reading.diagnostics.empty()) RC_FAIL(render(text, reading.diagnostics));
  for (const SizeDecl& size : reading.value.sizes) {
    RC_ASSERT(slice(text, size.name.at) == size.name.text);
    check_formula(text, size.is);
    check_formula(text, *size.from);
  }
}

TEST(Spans, OfWordsLeaveTheQuotesOut) {
  const Text text =
      piece("[cut.a]\nof = [\"leg\", 'rail', \"\"\"post\"\"\", '''a''']\nplane = \"p\"\n");
  const Document document = read_piece(text).value;
  for (const Name& name : document.top.cuts.at(0).of) EXPECT_EQ(slice(text, name.at), name.text);
}

TEST(Spans, OfWordsWithEscapesAreTheWholeValue) {
  const Text text = piece("[cut.a]\nof = [\"l\\u0065g\"]\nplane = \"p\"\n");
  const Name name = read_piece(text).value.top.cuts.at(0).of.at(0);
  EXPECT_EQ(name.text, "leg");
  EXPECT_EQ(slice(text, name.at), "\"l\\u0065g\"");
}

TEST(Spans, OfNumbersAreTheDigits) {
  const Text text = piece("[size.a]\nis = +12.5 # é\n");
  EXPECT_EQ(slice(text, read_piece(text).value.sizes.at(0).is.at), "12.5");
}

TEST(Spans, ABackslashThatLooksLikeLongQuotesIsNoneOfThem) {
  const Text text = piece("note = \"\\\\\\\\\\\\\\\\\"\n[size.a]\nis = \"\\\\\\\\\\\\\\\\\"\n");
  const Reading<Document> reading = read_piece(text);
  ASSERT_EQ(reading.diagnostics.size(), 1U);
  EXPECT_EQ(slice(text, reading.diagnostics[0].at), "\"\\\\\\\\\\\\\\\\\"");
}

}  // namespace
}  // namespace kw
