// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/session.h"

#include "app/cli/commands.h"

#include <CLI/CLI.hpp>

#include <exception>
#include <new>
#include <ostream>

namespace milehold::cli {

namespace {

constexpr const char* kProgram = "milehold-cli: ";

int refuse(std::ostream& err, int code, std::string sentence) {
    while (!sentence.empty() && sentence.back() == '\n')
        sentence.pop_back();
    for (char& c : sentence)
        if (c == '\n')
            c = ' ';
    err << kProgram << sentence << '\n';
    return code;
}

int finish(const Session& session, std::ostream& out, std::ostream& err) {
    out << session.out << std::flush;
    if (!out)
        return refuse(err, 1, "standard output cannot be written to");
    return 0;
}

int perform(const Action& action, Session& session, std::ostream& out) {
    const auto done = action(session);
    if (!done)
        return refuse(session.err, exitCodeOf(done.error().code), done.error().detail);
    return finish(session, out, session.err);
}

} // namespace

int exitCodeOf(core::ErrorCode code) {
    switch (code) {
    case core::ErrorCode::InvalidInput:
    case core::ErrorCode::NotFound:
    case core::ErrorCode::Unreadable:
    case core::ErrorCode::NotAShop:
    case core::ErrorCode::TooNew:
    case core::ErrorCode::Unsupported:
        return 2;
    case core::ErrorCode::Conflict:
    case core::ErrorCode::NotEstimable:
    case core::ErrorCode::NoConvergence:
    case core::ErrorCode::InUse:
    case core::ErrorCode::ReadOnly:
    case core::ErrorCode::DiskProblem:
    case core::ErrorCode::Offline:
    case core::ErrorCode::GivenUp:
    case core::ErrorCode::OutcomeUnknown:
    case core::ErrorCode::Internal:
        break;
    }
    return 1;
}

int run(int argc, const char* const* argv, std::ostream& out, std::ostream& err) {
    CLI::App program{"How many miles does a repair last: the numbers of Milehold without its window.",
                     "milehold-cli"};
    program.set_version_flag("--version", std::string("milehold-cli ") + MILEHOLD_VERSION);
    program.require_subcommand(1);

    Session session{Format::Text, {}, err};
    const std::map<std::string, Format> formats = {
        {"text", Format::Text}, {"json", Format::Json}, {"csv", Format::Csv}};
    Action chosen;
    for (const Command& command : commands()) {
        CLI::App* const sub = program.add_subcommand(command.name, command.summary);
        sub->add_option("--format", session.format, "form of the answer: text, json or csv")
            ->transform(CLI::Transformer(formats).description("text|json|csv"))
            ->default_str("text");
        sub->callback([&chosen, action = command.setUp(*sub)] { chosen = action; });
    }

    try {
        program.parse(argc, argv);
        return perform(chosen, session, out);
    } catch (const CLI::CallForHelp&) {
        const auto asked = program.get_subcommands();
        session.out = asked.empty() ? program.help() : asked.front()->help();
        return finish(session, out, err);
    } catch (const CLI::CallForVersion&) {
        session.out = program.version() + "\n";
        return finish(session, out, err);
    } catch (const CLI::ParseError& problem) {
        return refuse(err, 2, std::string(problem.what()) + "; milehold-cli --help lists what is expected");
    } catch (const std::bad_alloc&) {
        return refuse(err, 1, "there is not enough memory for this input");
    } catch (const std::exception& problem) {
        return refuse(err, 1, std::string("an unforeseen fault: ") + problem.what());
    }
}

} // namespace milehold::cli
