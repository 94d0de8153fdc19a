#include "cavity_space.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <deque>
#include <map>
#include <set>
#include <utility>

#include "column_cover.hpp"
#include "exact.hpp"

namespace cellstow::audit {
namespace {

constexpr int levels_between = 9;

bool open_spans_meet(Span left, Span right) { return left.low < right.high && right.low < left.high; }

Span common_part(Span left, Span right) {
  return {std::max(left.low, right.low), std::min(left.high, right.high)};
}

/// Both ends and nine levels between, each once.
std::vector<Tick> levels_of(Span part) {
  std::set<Tick> levels{part.low, part.high};
  for (int i = 1; i <= levels_between; ++i) {
    levels.insert(part.low + (part.high - part.low) * i / (levels_between + 1));
  }
  return {levels.begin(), levels.end()};
}

bool holes_match(const Section& low, const Section& high) {
  if (low.holes.size() != high.holes.size()) return false;
  for (std::size_t i = 0; i < low.holes.size(); ++i) {
    if (low.holes[i].size() != high.holes[i].size()) return false;
  }
  return true;
}

/// Corners at `level` between two stations, times the distance of the stations.
Ring between_rings(const Ring& low, const Ring& high, Tick above_low, Tick distance) {
  Ring out(low.size());
  for (std::size_t i = 0; i < low.size(); ++i) {
    out[i] = {low[i].a * (distance - above_low) + high[i].a * above_low,
              low[i].b * (distance - above_low) + high[i].b * above_low};
  }
  return out;
}

Figure shrunk_figure(const Ring& scaled, Tick scale) {
  std::vector<ExactPoint> corners;
  corners.reserve(scaled.size());
  const Number divisor = exact(scale);
  for (const Spot spot : scaled) corners.emplace_back(exact(spot.a) / divisor, exact(spot.b) / divisor);
  return make_figure(std::move(corners));
}

}  // namespace

struct CavitySpace::Walls {
  explicit Walls(const CavityJob& cavity) : job(cavity) {
    if (job.across == 2) for (const Section& section : job.sections) plain.push_back(section_walls(section));
  }

  const CavityJob& job;
  std::vector<std::vector<Material>> plain;                    ///< across z: each section's walls
  std::map<std::pair<Tick, Tick>, std::deque<Material>> by_span;  ///< made once for each height span

  std::string station_name(Tick station) const {
    return fmt::format("wall, section at {} = {:.1f} mm", "xyz"[job.across], to_mm(station));
  }

  std::vector<Material> section_walls(const Section& section) const {
    std::vector<Material> out;
    out.push_back({make_figure(section.outline), Side::outside, station_name(section.station)});
    for (const Ring& hole : section.holes) {
      out.push_back({make_figure(hole), Side::inside, station_name(section.station) + " (material in it)"});
    }
    return out;
  }

  Span reach(std::size_t i) const {
    const std::size_t last = job.sections.size() - 1;
    return {job.sections[i == 0 ? 0 : i - 1].station, job.sections[std::min(i + 1, last)].station};
  }

  Span slab(std::size_t i) const { return {job.sections[i].station, job.sections[i + 1].station}; }

  // ---- across z --------------------------------------------------------------

  void common_across_z(Span height, std::vector<const Material*>& out) const {
    for (std::size_t i = 0; i < plain.size(); ++i) {
      if (!open_spans_meet(reach(i), height)) continue;
      for (const Material& wall : plain[i]) out.push_back(&wall);
    }
  }

  void straight_level(std::size_t i, Tick level, std::deque<Material>& out) const {
    const Section &low = job.sections[i], &high = job.sections[i + 1];
    const Tick distance = high.station - low.station, above = level - low.station;
    const std::string name = fmt::format("wall between sections, z = {:.1f} mm", to_mm(level));
    const auto add = [&](const Ring& from, const Ring& to, Side side) {
      out.push_back({shrunk_figure(between_rings(from, to, above, distance), distance), side, name});
    };
    add(low.outline, high.outline, Side::outside);
    if (!holes_match(low, high)) return;
    for (std::size_t h = 0; h < low.holes.size(); ++h) add(low.holes[h], high.holes[h], Side::inside);
  }

  void straight_across_z(Span height, std::deque<Material>& out) const {
    for (std::size_t i = 0; i + 1 < job.sections.size(); ++i) {
      if (!open_spans_meet(slab(i), height)) continue;
      for (const Tick level : levels_of(common_part(slab(i), height))) straight_level(i, level, out);
      if (holes_match(job.sections[i], job.sections[i + 1])) continue;
      for (const std::size_t end : {i, i + 1}) {
        for (std::size_t w = 1; w < plain[end].size(); ++w) out.push_back(plain[end][w]);
      }
    }
  }

  // ---- across x or y -----------------------------------------------------------

  ExactPoint in_plan(const Number& station, const Number& lateral) const {
    return job.across == 0 ? ExactPoint(station, lateral) : ExactPoint(lateral, station);
  }

  void add_strip(Number from, Number to, const Stretch& part, std::string name, std::deque<Material>& out) const {
    out.push_back({make_figure(std::vector<ExactPoint>{in_plan(from, part.low), in_plan(to, part.low),
                                                       in_plan(to, part.high), in_plan(from, part.high)}),
                   Side::inside, std::move(name)});
  }

  void add_ends(std::deque<Material>& out) const {
    const Stretch all{exact(-beyond_everything), exact(beyond_everything)};
    const Tick first = job.sections.front().station, last = job.sections.back().station;
    add_strip(all.low, exact(first), all, station_name(first) + ", the first one", out);
    add_strip(exact(last), all.high, all, station_name(last) + ", the last one", out);
  }

  static std::vector<ScaledRing> scaled(const Section& section, bool with_outline) {
    std::vector<ScaledRing> out;
    if (with_outline) out.push_back({section.outline, Side::outside});
    for (const Ring& hole : section.holes) out.push_back({hole, Side::inside});
    return out;
  }

  void add_section_strip(std::size_t i, Span stations, bool with_outline, Span height,
                         std::deque<Material>& out) const {
    const std::vector<ScaledRing> rings = scaled(job.sections[i], with_outline);
    if (rings.empty()) return;
    for (const Stretch& part : blocked_stretches(rings, 1, height)) {
      add_strip(exact(stations.low), exact(stations.high), part, station_name(job.sections[i].station), out);
    }
  }

  /// The walls on the one plane at `level` between stations i and i + 1.
  void add_plane(std::size_t i, Tick level, Span height, std::deque<Material>& out) const {
    const Section &low = job.sections[i], &high = job.sections[i + 1];
    const Tick distance = high.station - low.station, above = level - low.station;
    std::vector<ScaledRing> rings;
    rings.push_back({between_rings(low.outline, high.outline, above, distance), Side::outside});
    for (std::size_t h = 0; holes_match(low, high) && h < low.holes.size(); ++h) {
      rings.push_back({between_rings(low.holes[h], high.holes[h], above, distance), Side::inside});
    }
    const std::string name = fmt::format("wall between sections, {} = {:.1f} mm", "xyz"[job.across], to_mm(level));
    for (const Stretch& part : blocked_stretches(rings, distance, height)) {
      out.push_back({make_figure(std::vector<ExactPoint>{in_plan(exact(level), part.low), in_plan(exact(level), part.high)}),
                     Side::line, name});
    }
  }

  void upright_sections(Span height, std::deque<Material>& out) const {
    add_ends(out);
    const std::size_t count = job.sections.size();
    if (job.between == Between::common) {
      for (std::size_t i = 0; i < count; ++i) add_section_strip(i, reach(i), true, height, out);
      return;
    }
    for (std::size_t i = 0; i + 1 < count; ++i) {
      for (const Tick level : levels_of(slab(i))) add_plane(i, level, height, out);
      if (holes_match(job.sections[i], job.sections[i + 1])) continue;
      add_section_strip(i, slab(i), false, height, out);
      add_section_strip(i + 1, slab(i), false, height, out);
    }
  }

  /// Planes about the figure's own corners, where a wall read straight across x or y comes nearest: a
  /// tenth of the clearance apart, so that the foot on a slanting wall is missed by no more than a
  /// twentieth of it and the distance by no more than 1/800 (c - sqrt(c^2 + (c/20)^2)); and half a
  /// micrometre to either side, because a plane through a corner only touches it.
  void planes_at_figure(const Ring& figure, Span height, Tick clearance, std::deque<Material>& out) const {
    std::set<Tick> levels;
    for (const Spot spot : figure) {
      const Tick at = job.across == 0 ? spot.a : spot.b;
      for (int step = -10; step <= 10; ++step) levels.insert(at + clearance * step / 10);
      levels.insert({at - 1, at + 1});
    }
    for (std::size_t i = 0; i + 1 < job.sections.size(); ++i) {
      for (const Tick level : levels) {
        if (level > slab(i).low && level < slab(i).high) add_plane(i, level, height, out);
      }
    }
  }

  const std::deque<Material>& made_for(Span height) {
    const auto [entry, is_new] = by_span.try_emplace({height.low, height.high});
    if (is_new && job.across == 2) straight_across_z(height, entry->second);
    if (is_new && job.across != 2) upright_sections(height, entry->second);
    return entry->second;
  }
};

CavitySpace::CavitySpace(const CavityJob& job) : walls_(std::make_unique<Walls>(job)) {}
CavitySpace::~CavitySpace() = default;

std::optional<Span> CavitySpace::measured_height() const {
  if (walls_->job.across != 2) return std::nullopt;
  return Span{walls_->job.sections.front().station, walls_->job.sections.back().station};
}

std::optional<Conflict> CavitySpace::worst_wall(const Ring& figure, Span height, Tick clearance) {
  const CavityJob& job = walls_->job;
  std::vector<const Material*> walls;
  std::deque<Material> own;
  if (job.across == 2 && job.between == Between::common) {
    walls_->common_across_z(height, walls);
  } else {
    for (const Material& wall : walls_->made_for(height)) walls.push_back(&wall);
  }
  if (job.across != 2 && job.between == Between::straight) {
    walls_->planes_at_figure(figure, height, clearance, own);
    for (const Material& wall : own) walls.push_back(&wall);
  }
  const Figure exact_figure = make_figure(figure);
  const Number exact_clearance = exact(clearance);
  std::optional<Conflict> worst;
  for (const Material* wall : walls) keep_worse(worst, conflict(exact_figure, *wall, exact_clearance));
  return worst;
}

}  // namespace cellstow::audit
