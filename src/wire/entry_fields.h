// The keys of each event, told once for reading and writing. `must`: there even when it is as it
// begins; `may`: left out then. Private to wire.
#pragma once

#include <concepts>

#include "kerfwright/trade/events.h"

namespace kw::wire {

// A T to be read, or a const T to be written.
template <class Value, class T>
concept Is = std::same_as<std::remove_const_t<Value>, T>;

void fields(auto& f, Is<trade::BoardFacts> auto& e) {
  f.may("stock", e.stock), f.may("species", e.species);
  f.may("thickness", e.thickness), f.may("width", e.width), f.must("length", e.length);
  f.may("faults", e.faults), f.may("moisture", e.moisture), f.may("value", e.value);
  f.may("note", e.note);
}
void fields(auto& f, Is<trade::BoardsBought> auto& e) {
  f.may("yard", e.yard), f.must("boards", e.boards);
  f.may("tax_back", e.tax_back), f.may("batch", e.batch);
}
void fields(auto& f, Is<trade::BoardsFound> auto& e) {
  f.must("boards", e.boards);
}
void fields(auto& f, Is<trade::BoardMeasured> auto& e) {
  f.must("board", e.board), f.must("facts", e.facts);
}
void fields(auto& f, Is<trade::BoardsReserved> auto& e) {
  f.must("batch", e.batch), f.must("boards", e.boards);
}
void fields(auto& f, Is<trade::BoardsReleased> auto& e) {
  f.must("boards", e.boards);
}
void fields(auto& f, Is<trade::BoardsGone> auto& e) {
  f.must("boards", e.boards), f.may("why", e.why);
}
void fields(auto& f, Is<trade::Offcut> auto& e) {
  f.must("facts", e.facts), f.must("strips", e.strips);
}
void fields(auto& f, Is<trade::SawnBoard> auto& e) {
  f.must("board", e.board), f.must("strips", e.strips);
  f.may("in_parts", e.in_parts), f.may("in_waste", e.in_waste), f.may("offcuts", e.offcuts);
}
void fields(auto& f, Is<trade::BoardsSawn> auto& e) {
  f.must("batch", e.batch), f.must("boards", e.boards);
}
void fields(auto& f, Is<trade::PriceSeen> auto& e) {
  f.may("yard", e.yard), f.must("stock", e.stock), f.may("species", e.species);
  f.may("length", e.length), f.may("width", e.width);
  f.must("per", e.per), f.must("price", e.price), f.may("tax_percent", e.tax_percent);
}
void fields(auto& f, Is<trade::OrderFacts> auto& e) {
  f.may("buyer", e.buyer), f.may("piece", e.piece), f.may("sizes", e.sizes);
  f.must("count", e.count), f.may("due", e.due), f.may("each", e.each), f.may("note", e.note);
}
void fields(auto& f, Is<trade::OrderTaken> auto& e) {
  f.must("facts", e.facts);
}
void fields(auto& f, Is<trade::OrderChanged> auto& e) {
  f.must("order", e.order), f.must("facts", e.facts);
}
void fields(auto& f, Is<trade::OrderCancelled> auto& e) {
  f.must("order", e.order), f.may("why", e.why);
}
void fields(auto& f, Is<trade::Quoted> auto& e) {
  f.must("order", e.order), f.must("net", e.net), f.may("tax", e.tax);
  f.must("valid_until", e.valid_until);
}
void fields(auto& f, Is<trade::Invoiced> auto& e) {
  f.must("order", e.order), f.must("net", e.net), f.may("tax", e.tax);
}
void fields(auto& f, Is<trade::Paid> auto& e) {
  f.must("order", e.order), f.must("amount", e.amount), f.may("fee", e.fee);
}
void fields(auto& f, Is<trade::Delivered> auto& e) {
  f.must("order", e.order);
}
void fields(auto& f, Is<trade::Lot> auto& e) {
  f.may("order", e.order), f.must("count", e.count), f.must("weight", e.weight);
}
void fields(auto& f, Is<trade::PartToMake> auto& e) {
  f.must("part", e.part), f.must("count", e.count);
}
void fields(auto& f, Is<trade::BoardsToBuy> auto& e) {
  f.may("yard", e.yard), f.may("stock", e.stock), f.may("species", e.species);
  f.must("length", e.length), f.may("width", e.width);
  f.must("count", e.count), f.may("each", e.each);
}
void fields(auto& f, Is<trade::BatchPlanned> auto& e) {
  f.may("name", e.name), f.must("lots", e.lots), f.may("boards", e.boards);
  f.may("to_buy", e.to_buy), f.may("parts", e.parts);
}
void fields(auto& f, Is<trade::OrderFromShelf> auto& e) {
  f.must("order", e.order), f.must("batch", e.batch);
}
void fields(auto& f, Is<trade::BatchDropped> auto& e) {
  f.must("batch", e.batch);
}
void fields(auto& f, Is<trade::PartsDone> auto& e) {
  f.must("batch", e.batch), f.must("part", e.part), f.must("count", e.count);
}
void fields(auto& f, Is<trade::TimeLogged> auto& e) {
  f.must("batch", e.batch), f.may("work", e.work), f.must("minutes", e.minutes);
  f.may("note", e.note);
}
void fields(auto& f, Is<trade::MoneySpent> auto& e) {
  f.must("on", e.on), f.may("what", e.what), f.may("batch", e.batch);
  f.must("paid", e.paid), f.may("tax_back", e.tax_back);
}
void fields(auto& f, Is<trade::SuppliesUsed> auto& e) {
  f.must("batch", e.batch), f.may("what", e.what), f.must("value", e.value);
}
void fields(auto& f, Is<trade::OwnerPaid> auto& e) {
  f.must("amount", e.amount), f.may("note", e.note);
}
void fields(auto& f, Is<trade::Undone> auto& e) {
  f.must("entry", e.entry);
}

}  // namespace kw::wire
