#include "read_plan.hpp"

namespace cellstow::audit {
namespace {

constexpr std::pair<const char*, Posts> posts[] = {{"up", Posts::up}, {"rising", Posts::rising}, {"falling", Posts::falling}};
constexpr std::pair<const char*, Pole> poles[] = {{"+", Pole::plus}, {"-", Pole::minus}};
constexpr std::pair<const char*, Join> joins[] = {{"link", Join::link}, {"jumper", Join::jumper}, {"cable", Join::cable}};

int need_whole(const At& object, const char* key) {
  const auto at = object.need(key);
  return at ? at->whole(1) : 1;
}

std::optional<double> maybe(const At& object, const char* key) {
  const auto at = object.find(key);
  return at ? std::optional<double>(at->number()) : std::nullopt;
}

Point need_point(const At& object, const char* key) {
  Point out{};
  const auto at = object.need(key);
  const std::vector<At> parts = at ? at->items(3) : std::vector<At>();
  for (std::size_t i = 0; i < parts.size(); ++i) out[i] = parts[i].number();
  return out;
}

OrderedCell read_cell(const At& item) {
  OrderedCell out;
  out.number = need_whole(item, "number");
  out.group = need_whole(item, "group");
  out.block = need_whole(item, "block");
  out.place = need_whole(item, "place");
  if (const auto at = item.need("box")) out.box = at->text();
  if (const auto at = item.need("posts")) out.posts = at->word(posts);
  if (const auto at = item.need("turned")) out.turned = at->truth();
  out.plus = need_point(item, "plus_mm");
  out.minus = need_point(item, "minus_mm");
  return out;
}

void read_end(const At& link, const char* key, int& cell, Pole& pole) {
  const auto end = link.need(key);
  if (!end) return;
  cell = need_whole(*end, "cell");
  if (const auto at = end->need("pole")) pole = at->word(poles);
}

LinkLine read_link(const At& item) {
  LinkLine out;
  out.number = need_whole(item, "number");
  read_end(item, "from", out.from, out.from_pole);
  read_end(item, "to", out.to, out.to_pole);
  if (const auto at = item.need("join")) out.join = at->word(joins);
  if (const auto at = item.need("removable")) out.removable = at->truth();
  if (const auto at = item.find("kind")) out.kind = at->text();
  out.centre_mm = maybe(item, "centre_mm");
  out.string_max_v = maybe(item, "string_max_v");
  return out;
}

void read_lists(const At& wiring, WiringFile& out) {
  if (const auto at = wiring.need("links")) {
    for (const At& item : at->items()) out.links.push_back(read_link(item));
  }
  if (const auto at = wiring.need("kinds")) {
    for (const At& item : at->items()) {
      const auto kind = item.need("kind");
      out.kinds.push_back({kind ? kind->text() : "", need_whole(item, "centre_mm"), need_whole(item, "count")});
    }
  }
  if (const auto at = wiring.need("pieces")) {
    for (const At& item : at->items()) {
      out.pieces.push_back({need_whole(item, "first_group"), need_whole(item, "last_group"), maybe(item, "max_v")});
    }
  }
}

void read_limits(const At& job, WiringFile& out) {
  if (const auto cell = job.find("cell")) {
    out.offset_mm = maybe(*cell, "terminal_offset_mm").value_or(0);
    if (const auto volts = cell->find("voltage_v")) out.cell_max_v = maybe(*volts, "max");
  }
  if (const auto rules = job.find("rules")) out.open_link_max_v = maybe(*rules, "open_link_max_v");
  if (const auto string = job.find("string")) {
    if (const auto at = string->find("parallel")) out.parallel = at->whole(1);
  }
}

}  // namespace

std::optional<WiringFile> read_wiring(const At& root) {
  const auto wiring = root.find("wiring");
  if (!wiring || !wiring->json().is_object()) return std::nullopt;
  const auto order = wiring->find("order");
  if (!order) return std::nullopt;
  WiringFile out;
  for (const At& item : order->items()) out.order.push_back(read_cell(item));
  read_lists(*wiring, out);
  if (const auto job = root.find("job")) read_limits(*job, out);
  if (const auto cavities = root.find("cavities")) {
    for (const At& cavity : cavities->items()) {
      std::vector<std::string>& marks = out.marks.emplace_back();
      const auto boxes = cavity.find("boxes");
      for (const At& box : boxes ? boxes->items() : std::vector<At>()) {
        const auto mark = box.find("mark");
        marks.push_back(mark ? mark->text() : std::string());
      }
    }
  }
  return out;
}

}  // namespace cellstow::audit
