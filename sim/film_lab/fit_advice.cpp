// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/fit_advice.hpp"

#include "models/error.hpp"
#include "sim/base/number_text.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield::detail {

namespace {

constexpr double test_noise = 0.005;  // of one point of a good laboratory curve; own assumption
constexpr double narrowing_worth_a_test = 0.7;

struct Design {
  std::string words;
  FilmTest test;
};

std::vector<Design> designs(const FilmFit& fit, const FitProblem& problem) {
  double rate = 0.1, stretch = 0.5;
  for (const FitPath& path : *problem.paths) {
    if (path.rate > 0.0) rate = path.rate;
    stretch = std::max(stretch, path.greatest_stretch - 1.0);
  }
  FilmTest base;
  base.rate = rate;
  base.stretch = stretch;
  base.temperature = fit.film.reference_temperature;
  const std::string to = fixed(stretch * 100.0, 0) + " %";
  std::vector<Design> list;
  const auto add = [&](const std::string& words, auto&& change) {
    Design design{words, base};
    change(design.test);
    list.push_back(design);
  };
  add("a tensile curve a hundred times slower", [](FilmTest& t) { t.rate *= 0.01; });
  add("a tensile curve a hundred times faster", [](FilmTest& t) { t.rate *= 100.0; });
  add("one loading and unloading to " + to, [](FilmTest& t) {
    t.kind = FilmTestKind::cycle;
    t.cycles = 1;
  });
  add("a hold at " + to + " for 24 h", [](FilmTest& t) {
    t.kind = FilmTestKind::relaxation;
    t.hold = 86400.0;
  });
  add("free recovery from " + to + " for 24 h", [](FilmTest& t) { t.kind = FilmTestKind::recovery; });
  add("a tensile curve at 40 degC", [](FilmTest& t) { t.temperature = 313.15; });
  add("a hold at " + to + " for 1 h at 40 degC", [](FilmTest& t) {
    t.kind = FilmTestKind::relaxation;
    t.temperature = 313.15;
  });
  return list;
}

/// Information a design would add; empty when the fitted film cannot go through it.
std::optional<Eigen::MatrixXd> design_information(const Design& design, const AdviceInput& input, const FilmFit& fit,
                                                  Observer* observer) {
  try {
    FilmTest test = design.test;
    const FilmCurve curve = run_film_test(fit.film, test, observer);
    std::vector<FitPath> paths{make_fit_path(lab_curve(test, curve, design.words))};
    paths.front().noise = test_noise;
    FitProblem problem = input.problem;
    problem.paths = &paths;
    const Eigen::MatrixXd found =
        shared_error_information(problem, parameters_from(problem.layout, fit.film), input.error);
    if (!found.allFinite()) return std::nullopt;
    return found;
  } catch (const Error&) {
    return std::nullopt;
  }
}

enum class Subject { hardening, rates, temperature, stiffness };

Subject subject_of(const FitLayout& layout, Eigen::Index i) {
  if (i <= layout.viscous_share()) return Subject::hardening;  // with the network's two numbers
  if (layout.thermal(i)) return Subject::temperature;
  return (i - 3) % 3 == 1 ? Subject::rates : Subject::stiffness;
}

const char* subject_words(Subject subject) {
  switch (subject) {
    case Subject::hardening: return "The share of hardening between the network and the flow stress";
    case Subject::rates: return "The rate at which branches relax";
    case Subject::temperature: return "The effect of temperature";
    case Subject::stiffness: return "The share of stiffness and flow stress among the branches";
  }
  return "";
}

std::string why(Subject subject, const AdviceInput& input) {
  const auto none = [&](FitLeg leg) {
    return std::none_of(input.problem.paths->begin(), input.problem.paths->end(),
                        [&](const FitPath& p) { return p.has(leg); });
  };
  if (subject == Subject::temperature && !input.two_temperatures) return " (all curves have the same temperature)";
  if (subject == Subject::hardening && none(FitLeg::unloading) && none(FitLeg::free)) return " (no curve unloads)";
  if (subject == Subject::rates && none(FitLeg::hold) && none(FitLeg::creep) && none(FitLeg::free))
    return " (no curve holds or recovers)";
  return {};
}

void write_sentences(const AdviceInput& input, FilmFit& fit) {
  const FitLayout& layout = input.problem.layout;
  for (const Subject subject : {Subject::hardening, Subject::stiffness, Subject::rates, Subject::temperature}) {
    std::string keys;
    int count = 0;
    std::vector<std::string> tests;
    for (Eigen::Index i = 0; i < layout.size(); ++i) {
      const FittedParameter& p = fit.parameters[static_cast<std::size_t>(i)];
      if (p.determined || subject_of(layout, i) != subject) continue;
      ++count;
      keys += (keys.empty() ? "" : ", ") + p.key;
      if (!p.test.empty() && std::find(tests.begin(), tests.end(), p.test) == tests.end()) tests.push_back(p.test);
    }
    if (keys.empty()) {
      const std::string reason = why(subject, input);
      if (subject == Subject::hardening && !reason.empty())
        fit.unknown.push_back(std::string(subject_words(subject)) + " is given by the form of the law alone" + reason +
                              ": one loading and unloading would test it.");
      continue;
    }
    std::string text = std::string(subject_words(subject)) + " is not determined by these data" + why(subject, input) +
                       ": " + keys + (count == 1 ? " rests" : " rest") + " on the assumption.";
    for (std::size_t t = 0; t < tests.size(); ++t)
      text += (t == 0 ? " One more test would determine it: " : ", or ") + tests[t];
    text += tests.empty() ? " No single standard test would narrow these intervals by a third." : ".";
    fit.unknown.push_back(text);
  }
  fit.unknown.push_back(
      "Strip tests cannot determine neck_in (width in the draw gap; see delivery.width_on_load), density, thermal "
      "expansion or heat capacity: these are assumed unless you gave them.");
  if (fit.film.breaking) return;
  std::string seen;
  for (const CurveResidual& curve : fit.curves)
    if (curve.break_stretch) seen += (seen.empty() ? "" : ", ") + fixed(*curve.break_stretch * 100.0, 0) + " %";
  fit.unknown.push_back("Stretch at break: " + (seen.empty() ? "no break data" : "these curves broke at " + seen) +
                        "; ten specimens pulled to break give [break].");
}

}  // namespace

void say_poor_numbers(FilmFit& fit) {
  std::string numbers;
  std::vector<std::string> tests;
  for (const DerivedInterval& d : fit.derived) {
    if (!d.value || d.determined) continue;
    const std::string share = fixed(50.0 * (d.high - d.low) / std::abs(*d.value), 0);
    numbers += (numbers.empty() ? "" : ", ") + std::string(d.parameter->key.substr(d.parameter->key.find('.') + 1)) +
               " (to " + share + " %)";
    if (!d.test.empty() && std::find(tests.begin(), tests.end(), d.test) == tests.end()) tests.push_back(d.test);
  }
  if (numbers.empty()) return;
  std::string text = "Not determined, half of the 95 % interval in brackets: " + numbers +
                     ". The intervals allow for films of another law; where no curve speaks, by own assumption.";
  for (std::size_t t = 0; t < tests.size(); ++t)
    text += (t == 0 ? " The tests that would narrow them most: " : ", or ") + tests[t];
  if (!tests.empty()) text += ".";
  fit.unknown.insert(fit.unknown.begin(), text);
}

std::vector<TestWorth> advise(const AdviceInput& input, FilmFit& fit, Observer* observer) {
  std::vector<TestWorth> worth;
  const bool open =
      std::any_of(fit.parameters.begin(), fit.parameters.end(), [](const auto& p) { return !p.determined; });
  if (open) {
    const Eigen::MatrixXd before = covariance_of(input.information, fit.prior_error);
    for (const Design& design : designs(fit, input.problem)) {
      const auto more = design_information(design, input, fit, observer);
      if (!more) continue;
      const Eigen::MatrixXd covariance = covariance_of(input.information + *more, fit.prior_error);
      worth.push_back({design.words, covariance});
      for (std::size_t k = 0; k < fit.parameters.size(); ++k) {
        FittedParameter& p = fit.parameters[k];
        const auto i = static_cast<Eigen::Index>(k);
        const double ratio = std::sqrt(covariance(i, i) / before(i, i));
        const double with_test = p.error * ratio;
        if (p.determined || ratio > narrowing_worth_a_test) continue;
        if (!p.test.empty() && with_test >= p.error_with_test) continue;
        p.test = design.words;
        p.error_with_test = with_test;
      }
    }
  }
  write_sentences(input, fit);
  return worth;
}

}  // namespace hoopfield::detail
