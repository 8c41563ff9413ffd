// Recursive descent over the grammar in expression.h. The first fault ends the reading: the cursor
// moves to the end of the text, so that every loop stops there.
#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <numbers>
#include <optional>

#include "literal.h"
#include "node.h"

namespace kw {
namespace {

using Node = Expression::Node;

constexpr std::size_t most_bytes = 1000;
constexpr int most_nodes = 200;
constexpr int most_depth = 40;

// How tightly an operator binds, loosest first.
enum class Level : std::uint8_t { comparison, sum, product, operand };

struct Operator {
  std::string_view text = {};
  Step step = Step::add;
  Level level = Level::sum;
};
// A longer one stands before one that starts like it.
constexpr std::array<Operator, 11> operators = {{
    {"<=", Step::less_or_equal, Level::comparison},
    {">=", Step::greater_or_equal, Level::comparison},
    {"==", Step::equal, Level::comparison},
    {"!=", Step::not_equal, Level::comparison},
    {"<", Step::less, Level::comparison},
    {">", Step::greater, Level::comparison},
    {"+", Step::add, Level::sum},
    {"-", Step::subtract, Level::sum},
    {"\u2212", Step::subtract, Level::sum},
    {"*", Step::multiply, Level::product},
    {"/", Step::divide, Level::product},
}};

struct Named {
  std::string_view name = {};
  Function function = Function::choose;
  std::size_t least = 1;
  std::size_t most = 1;
};
constexpr std::size_t any_count = most_nodes;
constexpr std::array<Named, 16> functions = {{
    {"if", Function::choose, 3, 3},
    {"min", Function::min, 1, any_count},
    {"max", Function::max, 1, any_count},
    {"abs", Function::abs},
    {"round-to", Function::round_to, 2, 2},
    {"round-up", Function::round_up, 2, 2},
    {"round-down", Function::round_down, 2, 2},
    {"sqrt", Function::sqrt},
    {"hypot", Function::hypot, 2, any_count},
    {"sin", Function::sin},
    {"cos", Function::cos},
    {"tan", Function::tan},
    {"asin", Function::asin},
    {"acos", Function::acos},
    {"atan", Function::atan},
    {"atan2", Function::atan2, 2, 2},
}};

Diagnostic unknown_function(std::string_view name, Span at) {
  std::vector<std::string> names;
  for (const Named& f : functions) names.emplace_back(f.name);
  const std::string near = nearest_name(name, names);
  return {.code = "measure.unknown-function",
          .at = at,
          .message = fmt::format("no function is called {}", quoted(name, "this")),
          .hint = near.empty() ? fmt::format("the functions are {}", fmt::join(names, ", "))
                               : fmt::format("write {}(...)", near)};
}

std::string counted(std::size_t values) {
  return values == 1 ? "one value" : fmt::format("{} values", values);
}

class Parser {
 public:
  Parser(std::string_view text, std::uint32_t at) : cursor_{text, at} {}
  Outcome<Expression> parse();

 private:
  Node whole() { return binary(Level::comparison); }
  Node binary(Level loosest);
  Node joined(const Operator& op, Node left, Node right);
  Node unary();
  Node power();
  Node primary();
  Node bracket();
  Node literal();
  Node name_or_call();
  Node call(std::string_view name, Span at);
  Node deeper(Node (Parser::*part)());
  Node made(Node node);
  Node fail(Diagnostic fault);
  Node fail(Span at, std::string message, std::string hint);

  const Operator* find_operator(Level loosest);
  std::string_view take_name();
  Diagnostic unexpected() const;
  Diagnostic two_readings(Span at) const;

  Cursor cursor_;
  Diagnostics faults_ = {};
  int nodes_ = 0;
  int depth_ = 0;
  bool divides_ = false;          // whether the operator last taken is / or ^
  std::size_t division_end_ = 0;  // where the last `3/4` ends
};

Node Parser::fail(Diagnostic fault) {
  if (faults_.empty()) faults_.push_back(std::move(fault));
  cursor_.place = cursor_.text.size();
  return {};
}

Node Parser::fail(Span at, std::string message, std::string hint) {
  return fail(Diagnostic{.code = "measure.formula-syntax",
                         .at = at,
                         .message = std::move(message),
                         .hint = std::move(hint)});
}

Node Parser::made(Node node) {
  if (++nodes_ <= most_nodes) return node;
  return fail(Diagnostic{.code = "measure.formula-too-long",
                         .at = cursor_.span(0, cursor_.text.size()),
                         .message = "the formula has more than 200 figures, names and operators",
                         .hint = "give parts of it names of their own"});
}

Node Parser::deeper(Node (Parser::*part)()) {
  if (depth_ == most_depth) {
    return fail(Diagnostic{.code = "measure.formula-too-deep",
                           .at = cursor_.span_here(),
                           .message = "the formula is nested more than 40 deep",
                           .hint = "give the inner parts names of their own"});
  }
  ++depth_;
  Node node = (this->*part)();
  --depth_;
  return node;
}

const Operator* Parser::find_operator(Level loosest) {
  cursor_.skip_spaces();
  const auto found = std::find_if(operators.begin(), operators.end(), [this](const Operator& op) {
    return cursor_.rest().starts_with(op.text);
  });
  return found != operators.end() && found->level >= loosest ? &*found : nullptr;
}

Node Parser::binary(Level loosest) {
  Node left = unary();
  bool is_comparison = false;
  while (const Operator* op = find_operator(loosest)) {
    if (op->level == Level::comparison && is_comparison) {
      return fail(cursor_.span_here(), "a comparison cannot follow another",
                  "put one of them in brackets, or write if(a < b, b < c, 0)");
    }
    is_comparison = op->level == Level::comparison;
    cursor_.take(op->text);
    divides_ = op->step == Step::divide;
    Node right = binary(static_cast<Level>(static_cast<int>(op->level) + 1));
    left = joined(*op, std::move(left), std::move(right));
  }
  return left;
}

Node Parser::joined(const Operator& op, Node left, Node right) {
  const Span at = {left.at.begin, right.at.end};
  std::vector<Node> inputs;
  inputs.reserve(2);
  inputs.push_back(std::move(left));
  inputs.push_back(std::move(right));
  return made({.step = op.step, .at = at, .inputs = std::move(inputs)});
}

Node Parser::unary() {
  cursor_.skip_spaces();
  const std::size_t from = cursor_.place;
  if (!cursor_.take_minus()) return power();
  Node inner = deeper(&Parser::unary);
  const Span at = {cursor_.span(from, from).begin, inner.at.end};
  return made({.step = Step::minus, .at = at, .inputs = {std::move(inner)}});
}

Node Parser::power() {
  Node base = primary();
  const bool is_division = cursor_.place == division_end_;
  cursor_.skip_spaces();
  if (!cursor_.take("^")) return base;
  if (is_division) return fail(two_readings(base.at));
  divides_ = true;
  Node exponent = deeper(&Parser::unary);
  return joined({.text = "^", .step = Step::power}, std::move(base), std::move(exponent));
}

Node Parser::primary() {
  cursor_.skip_spaces();
  if (starts_figure(cursor_)) return literal();
  if (is_letter(cursor_.peek())) return name_or_call();
  if (cursor_.peek() == '(') return bracket();
  return fail(unexpected());
}

Node Parser::bracket() {
  const std::size_t from = cursor_.place;
  cursor_.take("(");
  divides_ = false;
  Node inner = deeper(&Parser::whole);
  cursor_.skip_spaces();
  if (!cursor_.take(")")) return fail(unexpected());
  inner.at = cursor_.span_since(from);
  return inner;
}

Node Parser::literal() {
  const std::size_t from = cursor_.place;
  Diagnostics faults;
  const auto read = read_literal(cursor_, Hyphen::is_doubtful, faults);
  if (!read) return fail(faults.front());
  const Span at = cursor_.span_since(from);
  if (read->is_division) {
    if (divides_) return fail(two_readings(at));
    division_end_ = cursor_.place;
  }
  const Value value = {amount_of(*read), dimension_of(read->unit), read->unit == Unit::none};
  return made({.step = Step::literal, .value = value, .at = at});
}

Diagnostic Parser::two_readings(Span at) const {
  return {.code = "measure.formula-syntax",
          .at = at,
          .message = "this fraction may be one figure or a division",
          .hint = "put brackets: a / (3/4), or (a / 3) / 4"};
}

std::string_view Parser::take_name() {
  const auto is_plain = [](char c) { return is_letter(c) || is_digit(c); };
  const std::size_t from = cursor_.place;
  for (; !cursor_.at_end(); ++cursor_.place) {
    const char c = cursor_.peek();
    const bool is_joint =
        (c == '.' && is_plain(cursor_.peek(1))) || (c == '-' && is_letter(cursor_.peek(1)));
    if (!is_plain(c) && !is_joint) break;
  }
  return cursor_.since(from);
}

Node Parser::name_or_call() {
  const std::size_t from = cursor_.place;
  const std::string_view name = take_name();
  const Span at = cursor_.span_since(from);
  cursor_.skip_spaces();
  if (cursor_.peek() == '(') return call(name, at);
  if (name == "pi") {
    return made({.step = Step::literal, .value = value_of(std::numbers::pi), .at = at});
  }
  return made({.step = Step::name, .name = std::string(name), .name_at = at, .at = at});
}

Node Parser::call(std::string_view name, Span at) {
  const auto function = std::find_if(functions.begin(), functions.end(),
                                     [&](const Named& f) { return f.name == name; });
  if (function == functions.end()) return fail(unknown_function(name, at));
  cursor_.take("(");
  std::vector<Node> inputs;
  cursor_.skip_spaces();
  const bool is_empty = cursor_.peek() == ')';
  do {
    divides_ = false;
    if (!is_empty) inputs.push_back(deeper(&Parser::whole));
    cursor_.skip_spaces();
  } while (!is_empty && cursor_.take(","));
  if (!cursor_.take(")")) return fail(unexpected());
  at.end = cursor_.span_since(0).end;
  if (inputs.size() < function->least || inputs.size() > function->most) {
    return fail(
        at,
        fmt::format("{} takes {}{}, not {}", name, function->most == any_count ? "at least " : "",
                    counted(function->least), inputs.size()),
        "values are set apart by commas; a decimal is written with a point");
  }
  return made({.step = Step::call,
               .function = function->function,
               .name = std::string(name),
               .at = at,
               .inputs = std::move(inputs)});
}

Diagnostic Parser::unexpected() const {
  if (auto fault = comma_fault(cursor_)) return *std::move(fault);
  Diagnostic fault = {.code = "measure.formula-syntax", .at = cursor_.span_here()};
  const char next = cursor_.peek();
  if (cursor_.at_end()) {
    fault.message = "the formula ends too early";
    fault.hint = "write what is missing, or close the bracket";
  } else if (next == ')') {
    fault.message = "a value is missing, or this bracket closes nothing";
    fault.hint = "take the bracket away, or write the value";
  } else if (next == '=') {
    fault.message = "a single = means nothing in a formula";
    fault.hint = "write == to compare";
  } else if (is_letter(next) || next == '(' || starts_figure(cursor_)) {
    fault.message = "an operator is missing in front of this";
    fault.hint =
        "to multiply write *; units are in ft mm cm m deg rad kg g lb oz N lbf, behind a figure";
  } else {
    fault.message = "this has no meaning here";
    fault.hint = "write a figure, a name, an operator or a bracket";
  }
  return fault;
}

Outcome<Expression> Parser::parse() {
  if (cursor_.text.size() > most_bytes) {
    return Diagnostic{.code = "measure.formula-too-long",
                      .at = cursor_.span(0, cursor_.text.size()),
                      .message = "the formula has more than 1,000 bytes",
                      .hint = "give parts of it names of their own"};
  }
  cursor_.skip_spaces();
  if (cursor_.at_end()) {
    return Diagnostic{.code = "measure.empty",
                      .at = cursor_.span(0, cursor_.place),
                      .message = "the formula is missing",
                      .hint = "write a figure or a formula, such as height / 2"};
  }
  Node root = whole();
  cursor_.skip_spaces();
  if (!cursor_.at_end()) fail(unexpected());
  if (!faults_.empty()) return faults_;
  return Expression(std::make_shared<const Node>(std::move(root)));
}

void gather_names(const Node& node, std::vector<NameUse>& names) {
  const auto is_same = [&](const NameUse& use) { return use.name == node.name; };
  if (node.step == Step::name && std::none_of(names.begin(), names.end(), is_same)) {
    names.push_back({node.name, node.name_at});
  }
  for (const Node& input : node.inputs) gather_names(input, names);
}

}  // namespace

Outcome<Expression> parse_expression(std::string_view text, LengthUnit /*bare*/, std::uint32_t at) {
  return Parser(text, at).parse();
}

std::vector<NameUse> names_in(const Expression& expression) {
  std::vector<NameUse> names;
  if (!expression.is_empty()) gather_names(*expression.root(), names);
  return names;
}

std::string as_difference(std::string_view name, const std::vector<std::string>& known) {
  const auto is_known = [&](std::string_view part) {
    return std::find(known.begin(), known.end(), part) != known.end();
  };
  for (std::size_t i = name.find('-'); i != std::string_view::npos; i = name.find('-', i + 1)) {
    const std::string_view left = name.substr(0, i), right = name.substr(i + 1);
    if (is_known(left) && is_known(right)) return fmt::format("{} - {}", left, right);
  }
  return {};
}

}  // namespace kw
