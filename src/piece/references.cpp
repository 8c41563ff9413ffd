#include "references.h"

#include "kerfwright/measure/expression.h"

namespace kw::changing {
namespace {

struct Collector {
  const Document& document;
  std::vector<Reference> all = {};
  int scope = 0;
  std::vector<std::string> owner = {};

  void name(Kind kind, const Name& word, const std::string& key = {}) {
    if (word.text.empty()) return;
    all.push_back({.kind = kind,
                   .word = word.text,
                   .at = word.at,
                   .scope = scope,
                   .owner = owner,
                   .key = key});
  }
  void name(Kind kind, const std::optional<Name>& word) {
    if (word) name(kind, *word);
  }
  void names(Kind kind, const std::vector<Name>& words, const std::string& key) {
    for (const Name& word : words) name(kind, word, key);
  }
  void formula(const Formula& formula) {
    for (const NameUse& use : names_in(formula.expression)) {
      const std::size_t dot = use.name.find('.');
      const bool is_dotted = dot != std::string::npos;
      all.push_back({.kind = is_dotted ? Kind::stock : Kind::value,
                     .word = use.name.substr(0, dot),
                     .at = use.at,
                     .scope = scope,
                     .owner = owner,
                     .is_dotted = is_dotted,
                     .tail = is_dotted ? use.name.substr(dot + 1) : "",
                     .formula = formula.at});
    }
  }
  void formula(const std::optional<Formula>& one) {
    if (one) formula(*one);
  }
  template <std::size_t N>
  void formulas(const std::array<Formula, N>& some) {
    for (const Formula& one : some) formula(one);
  }
  void point(const PointRef& ref) {
    if (const auto* word = std::get_if<Name>(&ref))
      name(Kind::point, *word);
    else
      formulas(std::get<Formula3>(ref));
  }
  void point(const std::optional<PointRef>& ref) {
    if (ref) point(*ref);
  }
  void direction(const std::optional<Direction>& one) {
    if (!one) return;
    if (const auto* three = std::get_if<Formula3>(&one->is)) formulas(*three);
    if (const auto* two = std::get_if<std::array<PointRef, 2>>(&one->is))
      for (const PointRef& ref : *two) point(ref);
    formula(one->turn);
  }
  void end(const EndDecl& one) {
    if (const auto* plane = std::get_if<PlaneEnd>(&one.how)) name(Kind::plane, plane->plane);
    if (const auto* against = std::get_if<AgainstEnd>(&one.how)) name(Kind::board, against->board);
    if (const auto* mitre = std::get_if<MitreEnd>(&one.how)) name(Kind::board, mitre->board);
    if (const auto* angle = std::get_if<AngleEnd>(&one.how)) {
      formula(angle->mitre);
      formula(angle->bevel);
    }
    formula(one.add);
  }
  void placement(const PlacementDecl& one) {
    if (one.runs)
      for (const PointRef& ref : *one.runs) point(ref);
    point(one.from);
    direction(one.along);
    formula(one.length);
    direction(one.face);
    if (one.shift) formulas(*one.shift);
  }
  void in_table(const char* table, const Name& of) { owner = {table, of.text}; }

  void take(const BoardDecl& board) {
    in_table("board", board.name);
    name(Kind::stock, board.stock);
    placement(board.placement);
    end(board.start);
    end(board.end);
  }
  void take(const PanelDecl& panel) {
    in_table("panel", panel.name);
    name(Kind::stock, panel.stock);
    formula(panel.strips);
    formula(panel.width);
    placement(panel.placement);
    for (const OutlineStep& step : panel.outline) {
      formulas(step.to);
      if (step.through) formulas(*step.through);
      formula(step.radius);
    }
  }
  void take(const CutDecl& cut) {
    in_table("cut", cut.name);
    names(Kind::board, cut.of, "of");
    name(Kind::plane, cut.plane);
    point(cut.at);
    direction(cut.faces);
    for (const auto* one : {&cut.from, &cut.to, &cut.starts, &cut.ends}) formula(*one);
  }
  void take(const HoleDecl& hole) {
    in_table("hole", hole.name);
    names(Kind::board, hole.of, "of");
    for (const auto* one : {&hole.along, &hole.across, &hole.diameter}) formula(*one);
    for (const auto* one : {&hole.depth, &hole.count, &hole.step, &hole.tilt}) formula(*one);
  }
  void take(const CornerDecl& corner) {
    in_table("corner", corner.name);
    names(Kind::board, corner.of, "of");
    formula(corner.radius);
    formula(corner.clip);
  }
  void take(const CopyDecl& copy) {
    constexpr std::array<const char*, 4> tables = {"mirror", "repeat", "turn", "fill"};
    in_table(tables[copy.how.index()], copy.name);
    names(Kind::board, copy.of, "of");
    if (const auto* mirror = std::get_if<MirrorDecl>(&copy.how)) name(Kind::plane, mirror->across);
    if (const auto* repeat = std::get_if<RepeatDecl>(&copy.how)) {
      formula(repeat->count);
      formulas(repeat->step);
    }
    if (const auto* turn = std::get_if<TurnDecl>(&copy.how)) {
      formula(turn->count);
      direction(turn->about);
      point(turn->at);
      formula(turn->angle);
    }
    if (const auto* fill = std::get_if<FillDecl>(&copy.how)) {
      direction(fill->along);
      for (const auto* one : {&fill->from, &fill->to}) formula(*one);
      for (const auto* one : {&fill->gap_from, &fill->gap_to, &fill->count}) formula(*one);
    }
  }
  void take(const JointDecl& joint) {
    in_table("joint", joint.name);
    names(Kind::board, joint.of, "of");
    for (const auto* one : {&joint.ease, &joint.depth, &joint.stop, &joint.wide, &joint.thick,
                            &joint.length, &joint.diameter, &joint.inset, &joint.starts,
                            &joint.ends, &joint.across, &joint.count, &joint.step})
      formula(*one);
    if (joint.offset) formulas(*joint.offset);
  }
  void take(const UseDecl& use) {
    in_table("use", use.name);
    name(Kind::assembly, use.assembly);
    point(use.at);
    formula(use.turn);
    for (const DerivedDecl& with : use.with) {
      formula(with.is);
      const std::size_t before = all.size();
      name(Kind::value, with.name);
      if (all.size() > before) all.back().given_to = scope_called(document, use.assembly.text);
    }
  }
  void take(const Scope& of) {
    owner = {"derived"};
    for (const DerivedDecl& derived : of.derived) formula(derived.is);
    owner = {"point"};
    for (const PointDecl& one : of.points) formulas(one.at);
    for (const PlaneDecl& plane : of.planes) {
      in_table("plane", plane.name);
      point(plane.at);
      direction(plane.faces);
    }
    each(of.boards);
    each(of.panels);
    each(of.cuts);
    each(of.holes);
    each(of.corners);
    each(of.copies);
    each(of.joints);
    each(of.uses);
  }
  template <class List>
  void each(const List& list) {
    for (const auto& decl : list) take(decl);
  }
};

void take_stock(Collector& collector, const StockDecl& stock) {
  collector.in_table("stock", stock.name);
  if (const auto* section = std::get_if<Formula2>(&stock.section)) collector.formulas(*section);
  collector.formula(stock.rip);
  collector.formula(stock.sheet);
  if (stock.actual) collector.formulas(*stock.actual);
  for (const auto* offers : {&stock.buy, &stock.have}) {
    for (const OfferDecl& offer : *offers) {
      collector.formula(offer.length);
      collector.formula(offer.price);
      collector.formula(offer.count);
    }
  }
}

}  // namespace

int scope_called(const Document& document, const std::string& assembly) {
  for (std::size_t i = 0; i < document.assemblies.size(); ++i)
    if (document.assemblies[i].name.text == assembly) return static_cast<int>(i) + 1;
  return -1;
}

std::vector<Reference> references_in(const Document& document) {
  Collector collector{document};
  for (const SizeDecl& size : document.sizes) {
    collector.in_table("size", size.name);
    collector.formula(size.is);
    for (const auto* one : {&size.from, &size.to, &size.step}) collector.formula(*one);
  }
  for (const StockDecl& stock : document.stocks) take_stock(collector, stock);
  for (const LoadDecl& load : document.loads) {
    collector.in_table("load", load.name);
    collector.names(Kind::board, load.on, "on");
    collector.formula(load.each);
  }
  if (document.climate) {
    collector.owner = {"climate"};
    for (const auto* pair :
         {&document.climate->humidity, &document.climate->celsius, &document.climate->fahrenheit})
      if (*pair) collector.formulas(**pair);
    collector.formula(document.climate->moisture);
  }
  collector.owner = {"saw"};
  for (const auto* one : {&document.kerf, &document.trim, &document.offcut})
    collector.formula(*one);
  collector.take(document.top);
  for (const AssemblyDecl& assembly : document.assemblies) {
    ++collector.scope;
    collector.take(assembly.scope);
  }
  return std::move(collector.all);
}

}  // namespace kw::changing
