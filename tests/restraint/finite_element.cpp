#include "finite_element.hpp"

#include <unistd.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

namespace finite_element {
namespace {

namespace fs = std::filesystem;

struct Folder {
  fs::path path;
  explicit Folder(const std::string& name) : path(fs::temp_directory_path() / (name + "-" + std::to_string(getpid()))) { fs::create_directories(path); }
  ~Folder() { fs::remove_all(path); }
};

Result read(const fs::path& file) {
  std::ifstream in(file);
  Result out;
  enum { none, moved, stress } part = none;
  for (std::string line; std::getline(in, line);) {
    if (line.find("displacements") != std::string::npos) part = moved, out.moved.clear();
    if (line.find("stresses") != std::string::npos) part = stress, out.stress.clear();
    std::istringstream words(line);
    int id = 0;
    if (!(words >> id)) continue;
    if (part == moved) {
      std::array<double, 3> u{};
      if (words >> u[0] >> u[1] >> u[2]) out.moved[id] = u;
    } else if (part == stress) {
      int point = 0;
      std::array<double, 6> s{};
      if (words >> point >> s[0] >> s[1] >> s[2] >> s[3] >> s[4] >> s[5]) out.stress[id].push_back(s);
    }
  }
  return out;
}

}  // namespace

Result run(const std::string& name, const std::string& deck) {
  const Folder folder("cellstow-" + name);
  std::ofstream(folder.path / "job.inp") << deck;
  const std::string command = "cd '" + folder.path.string() + "' && OMP_NUM_THREADS=1 ccx -i job > job.log 2>&1";
  if (std::system(command.c_str()) != 0) throw std::runtime_error("ccx (package calculix-ccx) is missing or stopped: " + name);
  Result out = read(folder.path / "job.dat");
  if (out.moved.empty()) throw std::runtime_error("ccx gave no result: " + name);
  return out;
}

int Mesh::point(std::array<double, 3> at) {
  const std::array<long long, 3> key{std::llround(at[0] * 1000), std::llround(at[1] * 1000), std::llround(at[2] * 1000)};
  const auto [found, fresh] = points_.try_emplace(key, static_cast<int>(places_.size()) + 1);
  if (fresh) places_.push_back(at);
  return found->second;
}

void Mesh::patch(std::array<double, 3> from, std::array<double, 3> along, std::array<double, 3> across, double a, double b, int na, int nb, double thickness,
                 const std::string& set) {
  const auto place = [&](int i, int j) {
    std::array<double, 3> p{};
    for (std::size_t k = 0; k < 3; ++k) p[k] = from[k] + along[k] * a * i / (2 * na) + across[k] * b * j / (2 * nb);
    return point(p);
  };
  sets_.push_back({set, {}});
  thickness_.push_back(thickness);
  for (int j = 0; j < nb; ++j) {
    for (int i = 0; i < na; ++i) {
      const int x = 2 * i, y = 2 * j;
      corners_.push_back({place(x, y), place(x + 2, y), place(x + 2, y + 2), place(x, y + 2), place(x + 1, y), place(x + 2, y + 1), place(x + 1, y + 2), place(x, y + 1)});
      sets_.back().second.push_back(static_cast<int>(corners_.size()));
    }
  }
}

int Mesh::at(double x, double y, double z) const {
  const auto found = points_.find({std::llround(x * 1000), std::llround(y * 1000), std::llround(z * 1000)});
  if (found == points_.end()) throw std::runtime_error("no mesh point there");
  return found->second;
}

std::vector<int> Mesh::where(int axis, double value) const {
  std::vector<int> out;
  for (std::size_t i = 0; i < places_.size(); ++i)
    if (std::abs(places_[i][static_cast<std::size_t>(axis)] - value) < 1e-6) out.push_back(static_cast<int>(i) + 1);
  return out;
}

std::string Mesh::text(double modulus, double poisson) const {
  std::ostringstream out;
  out << "*NODE,NSET=ALL\n";
  for (std::size_t i = 0; i < places_.size(); ++i) out << i + 1 << "," << places_[i][0] << "," << places_[i][1] << "," << places_[i][2] << "\n";
  for (const auto& [name, elements] : sets_) {
    out << "*ELEMENT,TYPE=S8R,ELSET=" << name << "\n";
    for (const int e : elements) {
      out << e;
      for (const int corner : corners_[static_cast<std::size_t>(e - 1)]) out << "," << corner;
      out << "\n";
    }
  }
  out << "*MATERIAL,NAME=M\n*ELASTIC\n" << modulus << "," << poisson << "\n";
  for (std::size_t i = 0; i < sets_.size(); ++i) out << "*SHELL SECTION,ELSET=" << sets_[i].first << ",MATERIAL=M\n" << thickness_[i] << "\n";
  return out.str();
}

}  // namespace finite_element
