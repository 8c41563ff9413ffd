// Boards, panels, and what is taken away from them one by one: cuts, holes, corners.
#include "read_declaration.h"

namespace kw::reading {
namespace {

template <class T>
constexpr std::array<Key<T>, 7> placement_keys = {
    key<T, &T::placement, &PlacementDecl::runs>("runs"),
    key<T, &T::placement, &PlacementDecl::from>("at"),
    key<T, &T::placement, &PlacementDecl::along>("along"),
    key<T, &T::placement, &PlacementDecl::length>("length"),
    key<T, &T::placement, &PlacementDecl::face>("face"),
    key<T, &T::placement, &PlacementDecl::hold>("hold"),
    key<T, &T::placement, &PlacementDecl::shift>("shift"),
};

constexpr auto board_keys =
    joined(placement_keys<BoardDecl>, std::array{
                                          key<BoardDecl, &BoardDecl::stock>("stock", Need::must),
                                          key<BoardDecl, &BoardDecl::start>("start"),
                                          key<BoardDecl, &BoardDecl::end>("end"),
                                          key<BoardDecl, &BoardDecl::show>("show"),
                                          key<BoardDecl, &BoardDecl::note>("note"),
                                      });

constexpr auto panel_keys =
    joined(placement_keys<PanelDecl>, std::array{
                                          key<PanelDecl, &PanelDecl::stock>("stock", Need::must),
                                          key<PanelDecl, &PanelDecl::strips>("strips"),
                                          key<PanelDecl, &PanelDecl::width>("width"),
                                          key<PanelDecl, &PanelDecl::outline>("outline"),
                                          key<PanelDecl, &PanelDecl::show>("show"),
                                          key<PanelDecl, &PanelDecl::note>("note"),
                                      });

constexpr std::array plane_keys = {
    key<PlaneDecl, &PlaneDecl::at>("at", Need::must),
    key<PlaneDecl, &PlaneDecl::faces>("faces", Need::must),
};

constexpr std::array cut_keys = {
    key<CutDecl, &CutDecl::of>("of", Need::must),
    key<CutDecl, &CutDecl::plane>("plane"),
    key<CutDecl, &CutDecl::at>("at"),
    key<CutDecl, &CutDecl::faces>("faces"),
    key<CutDecl, &CutDecl::edge>("edge"),
    key<CutDecl, &CutDecl::from>("from"),
    key<CutDecl, &CutDecl::to>("to"),
    key<CutDecl, &CutDecl::starts>("starts"),
    key<CutDecl, &CutDecl::ends>("ends"),
};

constexpr std::array hole_keys = {
    key<HoleDecl, &HoleDecl::of>("of", Need::must),
    key<HoleDecl, &HoleDecl::face>("face", Need::must),
    key<HoleDecl, &HoleDecl::along>("along", Need::must),
    key<HoleDecl, &HoleDecl::across>("across"),
    key<HoleDecl, &HoleDecl::diameter>("diameter", Need::must),
    key<HoleDecl, &HoleDecl::depth>("depth"),
    key<HoleDecl, &HoleDecl::count>("count"),
    key<HoleDecl, &HoleDecl::step>("step"),
    key<HoleDecl, &HoleDecl::tilt>("tilt"),
};

constexpr std::array corner_keys = {
    key<CornerDecl, &CornerDecl::of>("of", Need::must),
    key<CornerDecl, &CornerDecl::at>("at", Need::must),
    key<CornerDecl, &CornerDecl::radius>("radius"),
    key<CornerDecl, &CornerDecl::clip>("clip"),
};

template <class T, std::size_t N>
void read_all(Reader& reader, const TomlNode& table, const std::array<Key<T>, N>& keys, T& into) {
  read_keys<T>(reader, table, keys, into);
}

}  // namespace

bool read_plane(Reader& reader, const TomlNode& table, PlaneDecl& into) {
  read_all(reader, table, plane_keys, into);
  return true;
}

bool read_board(Reader& reader, const TomlNode& table, BoardDecl& into) {
  read_all(reader, table, board_keys, into);
  pick_one(reader, table, {"runs", "at along length"}, Need::must);
  return true;
}

bool read_panel(Reader& reader, const TomlNode& table, PanelDecl& into) {
  read_all(reader, table, panel_keys, into);
  pick_one(reader, table, {"runs", "at along length"}, Need::must);
  pick_one(reader, table, {"strips", "width"}, Need::must);
  return true;
}

bool read_cut(Reader& reader, const TomlNode& table, CutDecl& into) {
  read_all(reader, table, cut_keys, into);
  pick_one(reader, table, {"plane", "at faces", "edge from to starts? ends?"}, Need::must);
  return true;
}

bool read_hole(Reader& reader, const TomlNode& table, HoleDecl& into) {
  read_all(reader, table, hole_keys, into);
  if (table.find("across") == nullptr) into.across.expression = *parse_expression("0", reader.unit);
  pick_one(reader, table, {"count step"}, Need::may);
  return true;
}

bool read_corner(Reader& reader, const TomlNode& table, CornerDecl& into) {
  read_all(reader, table, corner_keys, into);
  pick_one(reader, table, {"radius", "clip"}, Need::must);
  return true;
}

void add_board_keys(std::vector<KeyTable>& into) {
  into.push_back(facts_of<PlaneDecl>("plane", plane_keys));
  into.push_back(facts_of<BoardDecl>("board", board_keys));
  into.push_back(facts_of<PanelDecl>("panel", panel_keys));
  into.push_back(facts_of<CutDecl>("cut", cut_keys));
  into.push_back(facts_of<HoleDecl>("hole", hole_keys));
  into.push_back(facts_of<CornerDecl>("corner", corner_keys));
}

}  // namespace kw::reading
