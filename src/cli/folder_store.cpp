#include "folder_store.hpp"

#include <fmt/format.h>
#include <openssl/evp.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "cellstow/report/write.hpp"

namespace cellstow::cli {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;
using choosing::PackedCavity;

constexpr const char* format = "cellstow-kept/1";

Json to_json(const PackedCavity& answer) {
  Json stances = Json::array();
  for (const survey::Stance stance : answer.used) stances.push_back(static_cast<int>(stance));
  return {{"cells", answer.cells}, {"bound", answer.bound}, {"proven", answer.proven}, {"boxes", answer.boxes}, {"kg", answer.kg}, {"at_mm", {answer.x_mm, answer.y_mm, answer.z_mm}},
          {"used", stances}, {"fittings_missing", answer.fittings_missing}};
}

/// Throws what the JSON library throws when a value is missing or of another kind.
PackedCavity from_json(const Json& json) {
  PackedCavity answer;
  answer.cells = json.at("cells").get<int>();
  answer.bound = json.at("bound").get<int>();
  answer.proven = json.at("proven").get<bool>();
  answer.boxes = json.at("boxes").get<int>();
  answer.kg = json.at("kg").get<double>();
  answer.x_mm = json.at("at_mm").at(0).get<double>();
  answer.y_mm = json.at("at_mm").at(1).get<double>();
  answer.z_mm = json.at("at_mm").at(2).get<double>();
  for (const Json& stance : json.at("used")) answer.used.push_back(static_cast<survey::Stance>(stance.get<int>()));
  answer.fittings_missing = json.at("fittings_missing").get<int>();
  return answer;
}

bool can_be_an_answer(const PackedCavity& answer, const choosing::PackTask& task) {
  for (const survey::Stance stance : answer.used) {
    if (std::find(task.stances.begin(), task.stances.end(), stance) == task.stances.end()) return false;
  }
  return answer.cells >= 0 && answer.bound >= answer.cells && answer.proven == (answer.bound == answer.cells) && answer.boxes >= 0 && (answer.cells == 0) == (answer.kg == 0) &&
         std::isfinite(answer.kg) && answer.kg >= 0 && std::isfinite(answer.x_mm) && std::isfinite(answer.y_mm) && std::isfinite(answer.z_mm) && answer.fittings_missing >= 0;
}

std::string part(const Json& job, const char* key) { return job.at(key).dump(); }

}  // namespace

std::string sha256(const std::string& text) {
  unsigned char digest[EVP_MAX_MD_SIZE];
  unsigned int length = 0;
  if (EVP_Digest(text.data(), text.size(), digest, &length, EVP_sha256(), nullptr) != 1) throw std::runtime_error("SHA-256 could not be taken");
  std::string out;
  for (unsigned int i = 0; i < length; ++i) out += fmt::format("{:02x}", digest[i]);
  return out;
}

core::Result<std::monostate> FolderStore::prepare(const fs::path& folder) {
  std::error_code fault;
  fs::create_directories(folder, fault);
  const fs::path probe = folder / fmt::format(".probe-{}", ::getpid());
  const bool written = !fault && fs::is_directory(folder) && (std::ofstream(probe) << "x").good();
  fs::remove(probe, fault);
  if (written) return std::monostate{};
  return tl::unexpected(core::Problems{{"E408", folder.generic_string(), "", "folder for kept results cannot be made or written", "not a folder that can be written", "a folder, or a place where one can be made",
                                        "name another with --keep, or leave it out"}});
}

FolderStore::FolderStore(fs::path folder, const survey::Job& job, const std::vector<choosing::Format>& formats) : folder_(std::move(folder)) {
  survey::Job one = job;
  one.cavities.clear();
  rules_ = part(report::job_to_json(one), "rules");
  for (const choosing::Format& each : formats) {
    one.cell = each.cell;
    cells_.push_back(part(report::job_to_json(one), "cell"));
  }
  for (const survey::Cavity& cavity : job.cavities) {
    one.cavities = {cavity};
    cavities_.push_back(part(report::job_to_json(one), "cavities"));
  }
}

std::string FolderStore::key_of(const choosing::PackTask& task) const {
  Json stances = Json::array();
  for (const survey::Stance stance : task.stances) stances.push_back(static_cast<int>(stance));
  const Json all = {{"format", format}, {"program", CELLSTOW_VERSION}, {"cavity", cavities_[task.cavity]}, {"cell", cells_[task.format]}, {"rules", rules_}, {"stances", stances},
                    {"step_budget", task.effort.step_budget}, {"mixed_budget", task.effort.mixed_budget}};
  return sha256(all.dump());
}

std::optional<PackedCavity> FolderStore::find(const choosing::PackTask& task) {
  const std::string key = key_of(task);
  std::ifstream file(file_of(key), std::ios::binary);
  if (!file) return std::nullopt;
  try {
    const Json entry = Json::parse(std::string{std::istreambuf_iterator<char>(file), {}});
    if (entry.at("format") != format || entry.at("key") != key || entry.at("sha256") != sha256(entry.at("answer").dump())) return std::nullopt;
    const PackedCavity answer = from_json(entry.at("answer"));
    if (can_be_an_answer(answer, task)) return answer;
  } catch (const std::exception&) {  // not an entry of ours: worked out anew
  }
  return std::nullopt;
}

void FolderStore::keep(const choosing::PackTask& task, const PackedCavity& answer) {
  const std::string key = key_of(task);
  const Json body = to_json(answer);
  const Json entry = {{"format", format}, {"key", key}, {"sha256", sha256(body.dump())}, {"answer", body}};
  const fs::path aside = folder_ / fmt::format(".{}-{}-{}", key, ::getpid(), written_++);
  std::error_code fault;
  {
    std::ofstream file(aside, std::ios::binary);
    file << entry.dump() << "\n";
    if (!file.good()) {
      file.close();
      fs::remove(aside, fault);
      return;
    }
  }
  fs::rename(aside, file_of(key), fault);
  if (fault) fs::remove(aside, fault);
}

}  // namespace cellstow::cli
