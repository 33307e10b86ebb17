// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/commands.h"

#include "app/cli/backup_command.h"
#include "app/cli/calls_command.h"
#include "app/cli/compare_command.h"
#include "app/cli/curve_command.h"
#include "app/cli/early_warning_command.h"
#include "app/cli/ends_command.h"
#include "app/cli/evidence_command.h"
#include "app/cli/export_command.h"
#include "app/cli/factors_command.h"
#include "app/cli/fit_command.h"
#include "app/cli/funnel_command.h"
#include "app/cli/import_command.h"
#include "app/cli/move_command.h"
#include "app/cli/plan_command.h"
#include "app/cli/pooled_command.h"
#include "app/cli/quote_command.h"
#include "app/cli/repeats_command.h"
#include "app/cli/report_command.h"
#include "app/cli/restore_command.h"
#include "app/cli/sample_command.h"
#include "app/cli/server_setup_command.h"
#include "app/cli/verify_command.h"
#include "app/cli/warranty_command.h"

namespace milehold::cli {

namespace {

// A new command is a file pair NAME_command.{h,cpp} and one line here.
constexpr Command kCommands[] = {
    {"curve", "survival curve of each group", setUpCurve},
    {"compare", "whether groups share one hazard (log-rank and its weighted kin)", setUpCompare},
    {"ends", "how often each end has happened by each mileage", setUpEnds},
    {"repeats", "mean cumulative number of comebacks a vehicle", setUpRepeats},
    {"fit", "maximum likelihood life distribution of each group", setUpFit},
    {"factors", "proportional-hazards regression on columns of the table", setUpFactors},
    {"pooled", "small groups beside one another, and what each takes from the others", setUpPooled},
    {"funnel", "comebacks over those expected, with the limits of chance", setUpFunnel},
    {"early-warning", "whether comebacks of a part come faster than is usual", setUpEarlyWarning},
    {"plan", "comebacks and jobs needed to tell two paths apart", setUpPlan},
    {"warranty", "what comes back within terms of months and miles, and what it costs", setUpWarranty},
    {"quote", "the repair-life quote for one vehicle", setUpQuote},
    {"calls", "whom of a shop to call, the most worth a minute first", setUpCalls},
    {"evidence", "how completely a shop has followed its repairs", setUpEvidence},
    {"report", "the owner's report of a month as PDF", setUpReport},
    {"export", "records of a shop, or its lives, as CSV", setUpExport},
    {"import", "records from CSV into a shop, all of them or none", setUpImport},
    {"backup", "a verified copy of a shop's records, or the list of them", setUpBackup},
    {"restore", "put a backup in the place of a shop's records", setUpRestore},
    {"verify", "check a shop and its backups", setUpVerify},
    {"move", "copy a shop between a folder and a server, and prove the copy equal", setUpMove},
    {"server-setup", "make a PostgreSQL database fit for a shop, or bring it up to date", setUpServerSetup},
    {"sample", "write the invented sample shop, any size", setUpSample},
};

} // namespace

std::span<const Command> commands() {
    return kCommands;
}

} // namespace milehold::cli
