// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/command_line.hpp"

#include "bindings/cli/words.hpp"
#include "models/error.hpp"

#include "models/units.hpp"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>

#include <sstream>
#include <type_traits>
#include <utility>

namespace hoopfield::cli {

namespace {

/// The help of the option parser, broken at 80 columns; commands to copy stay whole.
class WrappedHelp : public CLI::Formatter {
 public:
  std::string make_help(const CLI::App* app, std::string name, CLI::AppFormatMode mode) const override {
    constexpr std::size_t text_column = 30;  // where the parser starts its descriptions
    std::istringstream lines(CLI::Formatter::make_help(app, std::move(name), mode));
    std::string out;
    for (std::string line; std::getline(lines, line);) {
      if (line.size() <= terminal_width || line.starts_with("  hoopfield "))
        out += line + '\n';
      else if (line.starts_with(' '))
        out += wrap(line.substr(text_column), line.substr(0, text_column), std::string(text_column, ' '));
      else
        out += wrap(line, "", "");
    }
    return out;
  }
};

/// An empty name would be taken for none, and the work for it be lost.
CLI::Validator not_empty() {
  return {[](std::string& text) { return text.empty() ? std::string("is empty; expected a value") : std::string(); },
          "", "not empty"};
}

void use_wrapped_help(CLI::App& app) {
  app.formatter(std::make_shared<WrappedHelp>());
  for (CLI::App* command : app.get_subcommands([](CLI::App*) { return true; })) use_wrapped_help(*command);
}

}  // namespace

Option& Option::required() {
  option_->required();
  return *this;
}

Option& Option::type_name(const std::string& word) {
  option_->type_name(word);
  return *this;
}

Option& Option::one_of(const std::vector<std::string>& words) {
  option_->check(CLI::IsMember(words));
  return *this;
}

Option& Option::between(int low, int high) {
  option_->check(CLI::Range(low, high));
  return *this;
}

Option& Option::between(double low, double high) {
  const std::string range = short_number(low) + " to " + short_number(high);
  option_->check(CLI::Validator(
      [low, high, range](std::string& given) {
        double value = 0.0;
        const bool is_inside = CLI::detail::lexical_cast(given, value) && value >= low && value <= high;
        return is_inside ? std::string() : given + " is not in the range from " + range;
      },
      "in " + range));
  return *this;
}

Option& Option::show_default() {
  option_->capture_default_str();
  return *this;
}

Option& Option::show_default(const std::string& text) {
  option_->default_str(text);
  return *this;
}

Option& Option::excludes(const Option& other) {
  option_->excludes(other.option_);
  return *this;
}

Command Command::add_command(const std::string& name, const std::string& description,
                             const std::string& example) const {
  const Command command(*program_, *app_->add_subcommand(name, description));
  command.app_->footer("Example:\n  " + example);
  return command;
}

Option Command::takes_units() const {
  CommonOptions& options = program_->options;
  return add_option(
             "--units",
             [&options](const std::string& style) {
               options.units = style == "metric" ? UnitStyle::metric : UnitStyle::inch_pound;
               options.chosen_units = options.units;
             },
             "Units of the printed page; files state their own")
      .one_of({"metric", "inch-pound"})
      .type_name("STYLE");
}

void Command::takes_overwrite() const {
  add_flag("--overwrite", program_->options.overwrite, "Replace files that exist");
}

Command Command::add_group(const std::string& name, const std::string& description) const {
  CLI::App* group = app_->add_subcommand(name, description);
  group->require_subcommand(1);
  return {*program_, *group};
}

template <typename Value>
Option Command::add_option(const std::string& names, Value& value, const std::string& description) const {
  CLI::Option* option = app_->add_option(names, value, description);
  if constexpr (!std::is_arithmetic_v<Value>) option->check(not_empty());
  return Option(option);
}

template Option Command::add_option(const std::string&, std::string&, const std::string&) const;
template Option Command::add_option(const std::string&, std::vector<std::string>&, const std::string&) const;
template Option Command::add_option(const std::string&, double&, const std::string&) const;
template Option Command::add_option(const std::string&, int&, const std::string&) const;
template Option Command::add_option(const std::string&, unsigned&, const std::string&) const;
template Option Command::add_option(const std::string&, std::size_t&, const std::string&) const;
template Option Command::add_option(const std::string&, std::optional<int>&, const std::string&) const;

Option Command::add_option(const std::string& names, std::function<void(const std::string&)> take,
                           const std::string& description) const {
  CLI::Option* option = app_->add_option_function<std::string>(names, std::move(take), description);
  option->check(not_empty());
  return Option(option);
}

Option Command::add_flag(const std::string& names, bool& value, const std::string& description) const {
  return Option(app_->add_flag(names, value, description));
}

void Command::runs(std::function<int()> action) const {
  app_->callback([program = program_, action = std::move(action)] { program->action = action; });
}

const CommonOptions& Command::common() const { return program_->options; }

Program::Program()
    : app_(std::make_unique<CLI::App>("Stretch film wound under tension around a rectangular load.", "hoopfield")) {}

Program::~Program() = default;

void Program::set_version(const std::string& text) { app_->set_version_flag("--version", text); }

void Program::set_footer(const std::string& text) { app_->footer(text); }

std::string Program::help() const { return app_->help(); }

std::optional<int> Program::parse(int argc, const char* const* argv) {
  use_wrapped_help(*app_);
  try {
    app_->parse(argc, argv);
  } catch (const CLI::Success& request) {
    return app_->exit(request);
  } catch (const CLI::ParseError& error) {
    throw InputError(std::string(error.what()) + "\nRun with --help for the options.");
  }
  return std::nullopt;
}

}  // namespace hoopfield::cli
