#include "cbc_model.hpp"

#include <Cbc_C_Interface.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <set>

namespace cellstow::bench {
namespace {

struct Placing { int x, y, width, height; };

/// A 0-1 programme: every row is sum of its columns (less one opener, if any) <= 1 (or 0).
struct Programme {
  struct Row { std::vector<int> columns; int opener = -1; };
  int columns = 0;
  std::vector<double> worth;
  std::vector<Row> rows;
  int add(double value) {
    worth.push_back(value);
    return columns++;
  }
};

bool centre_free(const Bay& bay, double x, double y) {
  bool inside = false;
  for (const auto& loop : bay.loops) {
    for (std::size_t k = 0; k < loop.size(); ++k) {
      const auto [ax, ay] = loop[k];
      const auto [bx, by] = loop[(k + 1) % loop.size()];
      if (ax == bx && (ay < y) != (by < y) && ax > x) inside = !inside;
    }
  }
  return inside;
}

/// Right-angled loops: a rectangle fits when its centre is inside and no edge enters it.
bool fits(const Bay& bay, const Placing& r) {
  for (const auto& loop : bay.loops) {
    for (std::size_t k = 0; k < loop.size(); ++k) {
      const auto [ax, ay] = loop[k];
      const auto [bx, by] = loop[(k + 1) % loop.size()];
      if (std::max(ax, bx) > r.x && std::min(ax, bx) < r.x + r.width && std::max(ay, by) > r.y &&
          std::min(ay, by) < r.y + r.height) {
        return false;
      }
    }
  }
  return centre_free(bay, r.x + r.width / 2.0, r.y + r.height / 2.0);
}

/// Positions to which any packing can be pushed: an edge of the bay plus whole sums of the sizes.
std::vector<int> normal_positions(const Bay& bay, bool along_x, const std::vector<int>& sizes) {
  std::set<int> edges;
  for (const auto& loop : bay.loops) {
    for (const auto& [x, y] : loop) edges.insert(along_x ? x : y);
  }
  std::set<int> found = edges;
  for (auto at = found.begin(); at != found.end(); ++at) {
    for (const int size : sizes) {
      if (*at + size < *edges.rbegin()) found.insert(*at + size);
    }
  }
  return {found.begin(), found.end()};
}

Programme mixed_programme(const Bay& bay, int a, int b) {
  const auto xs = normal_positions(bay, true, {a, b}), ys = normal_positions(bay, false, {a, b});
  Programme programme;
  std::vector<Placing> placings;
  for (const int x : xs) {
    for (const int y : ys) {
      for (const auto& [width, height] : {std::pair{a, b}, std::pair{b, a}}) {
        const Placing placing{x, y, width, height};
        if (!fits(bay, placing)) continue;
        placings.push_back(placing);
        programme.add(1);
      }
    }
  }
  for (const int x : xs) {
    for (const int y : ys) {
      Programme::Row row;
      for (int i = 0; i < programme.columns; ++i) {
        const Placing& p = placings[static_cast<std::size_t>(i)];
        if (p.x <= x && x < p.x + p.width && p.y <= y && y < p.y + p.height) row.columns.push_back(i);
      }
      if (row.columns.size() > 1) programme.rows.push_back(std::move(row));
    }
  }
  return programme;
}

/// Strips along x of the given height, rectangles of the given width in them.
Programme rows_programme(const Bay& bay, int width, int height) {
  const auto xs = normal_positions(bay, true, {width}), ys = normal_positions(bay, false, {height});
  Programme programme;
  std::vector<int> opener;
  for (std::size_t j = 0; j < ys.size(); ++j) opener.push_back(programme.add(0));
  for (std::size_t j = 0; j < ys.size(); ++j) {
    Programme::Row apart;
    for (std::size_t i = 0; i <= j; ++i) {
      if (ys[i] + height > ys[j]) apart.columns.push_back(opener[i]);
    }
    programme.rows.push_back(std::move(apart));
    std::vector<std::pair<int, int>> starts;  // x, column
    for (const int x : xs) {
      if (fits(bay, {x, ys[j], width, height})) starts.emplace_back(x, programme.add(1));
    }
    for (const auto& [at, column] : starts) {
      Programme::Row row{{}, opener[j]};
      for (const auto& [x, other] : starts) {
        if (x <= at && at < x + width) row.columns.push_back(other);
      }
      programme.rows.push_back(std::move(row));
    }
  }
  return programme;
}

CbcAnswer solve_here(const Programme& programme, int seconds_allowed) {
  Cbc_Model* model = Cbc_newModel();
  std::vector<std::vector<std::pair<int, double>>> by_column(static_cast<std::size_t>(programme.columns));
  for (std::size_t r = 0; r < programme.rows.size(); ++r) {
    for (const int c : programme.rows[r].columns) by_column[static_cast<std::size_t>(c)].emplace_back(r, 1.0);
    if (programme.rows[r].opener >= 0) {
      by_column[static_cast<std::size_t>(programme.rows[r].opener)].emplace_back(r, -1.0);
    }
  }
  std::vector<CoinBigIndex> starts{0};
  std::vector<int> index;
  std::vector<double> value;
  for (const auto& column : by_column) {
    for (const auto& [r, v] : column) index.push_back(r), value.push_back(v);
    starts.push_back(static_cast<CoinBigIndex>(index.size()));
  }
  const std::vector<double> low(by_column.size(), 0), high(by_column.size(), 1);
  std::vector<double> row_low(programme.rows.size(), -1e30), row_high;
  for (const auto& row : programme.rows) row_high.push_back(row.opener >= 0 ? 0 : 1);
  Cbc_loadProblem(model, programme.columns, static_cast<int>(programme.rows.size()), starts.data(), index.data(),
                  value.data(), low.data(), high.data(), programme.worth.data(), row_low.data(), row_high.data());
  Cbc_setObjSense(model, -1);
  for (int c = 0; c < programme.columns; ++c) Cbc_setInteger(model, c);
  Cbc_setParameter(model, "log", "0");
  Cbc_setParameter(model, "sec", std::to_string(seconds_allowed).c_str());
  Cbc_solve(model);
  CbcAnswer answer;
  answer.finished = Cbc_isProvenOptimal(model) != 0;
  // Without a packing or a bound CBC gives a huge number in its place.
  const auto sane = [&](double value) { return std::abs(value) <= programme.columns ? std::abs(value) : 0.0; };
  answer.count = static_cast<int>(std::lround(sane(Cbc_getObjValue(model))));
  answer.bound = static_cast<int>(std::floor(sane(Cbc_getBestPossibleObjValue(model)) + 1e-6));
  Cbc_deleteModel(model);
  return answer;
}

/// CBC may overrun its own limit: it runs in a process of its own that is ended from outside.
CbcAnswer solve_apart(const Programme& programme, int seconds_allowed) {
  const auto began = std::chrono::steady_clock::now();
  int ends[2];
  if (pipe(ends) != 0) return {};
  std::fflush(nullptr);  // else the child may print what the parent has buffered
  const pid_t child = fork();
  if (child == 0) {
    const CbcAnswer answer = solve_here(programme, seconds_allowed);
    const bool told = write(ends[1], &answer, sizeof answer) == sizeof answer;
    _exit(told ? 0 : 1);
  }
  close(ends[1]);
  CbcAnswer answer;
  bool told = false;
  const auto elapsed = [&] {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
  };
  int status = 0;
  while (waitpid(child, &status, WNOHANG) == 0) {
    if (elapsed() > seconds_allowed + 5.0) kill(child, SIGKILL);
    usleep(2'000);
  }
  told = read(ends[0], &answer, sizeof answer) == sizeof answer;
  close(ends[0]);
  if (!told) answer = {};
  answer.crashed = WIFSIGNALED(status) && WTERMSIG(status) != SIGKILL;
  answer.seconds = elapsed();
  return answer;
}

Bay turned(Bay bay) {
  for (auto& loop : bay.loops) {
    for (auto& [x, y] : loop) std::swap(x, y);
  }
  return bay;
}

}  // namespace

CbcAnswer most_mixed(const Bay& bay, int a, int b, int seconds_allowed) {
  return solve_apart(mixed_programme(bay, a, b), seconds_allowed);
}

CbcAnswer most_in_rows(const Bay& bay, int a, int b, int seconds_allowed) {
  CbcAnswer best;
  best.finished = true;
  for (const Bay& view : {bay, turned(bay)}) {
    for (const auto& [width, height] : {std::pair{a, b}, std::pair{b, a}}) {
      const CbcAnswer answer = solve_apart(rows_programme(view, width, height), seconds_allowed);
      best.count = std::max(best.count, answer.count);
      best.bound = std::max(best.bound, answer.bound);
      best.finished = best.finished && answer.finished;
      best.seconds += answer.seconds;
    }
  }
  return best;
}

}  // namespace cellstow::bench
