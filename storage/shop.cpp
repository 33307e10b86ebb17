// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/shop.h"

#include "storage/attachment_store.h"
#include "storage/database/statement.h"
#include "storage/database/unit_of_work.h"
#include "storage/exchange/exchange_store.h"
#include "storage/files/attachment_copies.h"
#include "storage/files/backup_writer.h"
#include "storage/files/durable.h"
#include "storage/files/full_check.h"
#include "storage/server/open_server.h"
#include "storage/shop_open.h"

namespace milehold::storage {

struct Shop::Parts {
    explicit Parts(OpenedShop shop)
        : opened(std::move(shop)), staff(*opened.session), customers(*opened.session),
          vehicles(*opened.session), shelf(*opened.session), jobs(*opened.session),
          followUps(*opened.session), lives(*opened.session), drafts(draftSession(opened)),
          changeLog(*opened.session), exchange(*opened.session) {}

    OpenedShop opened;
    StaffStore staff;
    CustomerStore customers;
    VehicleStore vehicles;
    ShelfStore shelf;
    JobStore jobs;
    FollowUpStore followUps;
    LifeStore lives;
    DraftStore drafts;
    ChangeLog changeLog;
    ExchangeStore exchange;
    std::optional<ChainHead> backedUp; ///< the head of the newest backup
    bool closed = false;

    Session& session() const { return *opened.session; }
};

namespace {

ChainHead headOf(const BackupInfo& backup) {
    return {backup.chainSequence, backup.chainHash};
}

} // namespace

Shop::Shop(std::unique_ptr<Parts> parts) : parts_(std::move(parts)) {
    // Before anybody says who they are, so that no station takes back what another has saved.
    parts_->session().setWho({std::nullopt, stationName()});
}

Shop::~Shop() {
    if (!parts_->closed)
        parts_->session().close();
}

core::Result<std::unique_ptr<Shop>> Shop::create(const std::filesystem::path& folder,
                                                 const core::ShopSettings& settings, OpenOptions options) {
    auto steps = builtInMigrations("sqlite");
    if (!steps)
        return core::failureOf(steps);
    auto made = createShop(ShopFolder{folder}, settings, options, *steps);
    if (!made)
        return core::failureOf(made);
    return std::unique_ptr<Shop>(new Shop(std::make_unique<Parts>(std::move(*made))));
}

core::Result<std::unique_ptr<Shop>> Shop::open(const std::filesystem::path& folder, OpenOptions options) {
    if (isServerAddress(folder.string())) {
        auto opened = openOnServer(folder.string(), options.clock);
        if (!opened)
            return core::failureOf(opened);
        return std::unique_ptr<Shop>(new Shop(std::make_unique<Parts>(std::move(*opened))));
    }
    auto steps = builtInMigrations("sqlite");
    if (!steps)
        return core::failureOf(steps);
    auto opened = openShop(ShopFolder{folder}, options, *steps);
    if (!opened)
        return core::failureOf(opened);
    std::unique_ptr<Shop> shop(new Shop(std::make_unique<Parts>(std::move(*opened))));
    if (const auto last = shop->lastBackup(); last && *last)
        shop->parts_->backedUp = headOf(**last);
    return shop;
}

core::Result<std::unique_ptr<Shop>> Shop::browse(const BackupInfo& backup, OpenOptions options) {
    auto steps = builtInMigrations("sqlite");
    if (!steps)
        return core::failureOf(steps);
    auto opened = browseBackup(backup, options, *steps);
    if (!opened)
        return core::failureOf(opened);
    return std::unique_ptr<Shop>(new Shop(std::make_unique<Parts>(std::move(*opened))));
}

std::optional<Holder> Shop::holderOf(const std::filesystem::path& folder) {
    return ShopLock::holder(ShopFolder{folder});
}

core::Result<void> Shop::close() {
    if (parts_->closed)
        return {};
    core::Result<void> outcome;
    if (parts_->opened.server) {
        parts_->closed = true;
        parts_->session().close();
        parts_->opened.drafts->close();
        return {};
    }
    if (!readOnly() && changedSinceBackup()) {
        if (auto made = backUp(BackupReason::Close); !made)
            outcome = core::failureOf(made);
    }
    parts_->closed = true;
    parts_->session().close();
    if (!readOnly()) {
        const auto unmarked = removeFile(parts_->opened.folder.openMark());
        if (outcome && !unmarked)
            outcome = unmarked;
    }
    parts_->opened.lock.reset();
    return outcome;
}

const std::filesystem::path& Shop::folder() const {
    return parts_->opened.folder.root;
}

bool Shop::readOnly() const {
    return parts_->session().readOnly();
}

void Shop::setWho(Who who) {
    parts_->session().setWho(std::move(who));
}

const Who& Shop::who() const {
    return parts_->session().who();
}

void Shop::onChange(std::function<void(const std::vector<ChangeNotice>&)> listener) {
    parts_->session().onChange(std::move(listener));
}

core::Result<void> Shop::together(const std::function<core::Result<void>()>& work) {
    // Once: what the caller does in between need not be fit to be done twice.
    return inOneUnitOnce(parts_->session(), [&](UnitOfWork&) { return work(); });
}

core::Result<core::ShopSettings> Shop::settings() const {
    return readSettings(parts_->session());
}

core::Result<core::ShopSettings> Shop::saveSettings(core::ShopSettings settings) {
    return writeSettings(parts_->session(), settings);
}

StaffStore& Shop::staff() {
    return parts_->staff;
}
CustomerStore& Shop::customers() {
    return parts_->customers;
}
VehicleStore& Shop::vehicles() {
    return parts_->vehicles;
}
ShelfStore& Shop::shelf() {
    return parts_->shelf;
}
JobStore& Shop::jobs() {
    return parts_->jobs;
}
FollowUpStore& Shop::followUps() {
    return parts_->followUps;
}
LifeStore& Shop::lives() {
    return parts_->lives;
}
DraftStore& Shop::drafts() {
    return parts_->drafts;
}
ChangeLog& Shop::changeLog() {
    return parts_->changeLog;
}

ExchangeStore& Shop::exchange() {
    return parts_->exchange;
}

core::Result<BackupInfo> Shop::backUp(BackupReason reason) {
    auto& session = parts_->session();
    if (parts_->opened.server)
        return core::fail(
            core::ErrorCode::Unsupported,
            "a shop on a server is backed up there (pg_dump); `milehold-cli move` makes a copy in a "
            "folder");
    if (readOnly())
        return core::fail(core::ErrorCode::ReadOnly, "the shop is open for reading only");
    if (session.unit() != nullptr)
        return core::fail(core::ErrorCode::Internal, "a backup inside a unit of work");
    if (auto connected = session.connect(); !connected)
        return core::failureOf(connected);
    auto made = writeBackup(session.database(), parts_->opened.folder, reason, session.now());
    if (made)
        parts_->backedUp = headOf(*made);
    return made;
}

core::Result<std::vector<BackupInfo>> Shop::backups() const {
    if (parts_->opened.server)
        return std::vector<BackupInfo>();
    return listBackups(folder());
}

core::Result<std::optional<BackupInfo>> Shop::lastBackup() const {
    auto all = backups();
    if (!all)
        return core::failureOf(all);
    if (all->empty())
        return std::optional<BackupInfo>();
    return std::optional(std::move(all->front()));
}

bool Shop::changedSinceBackup() const {
    if (parts_->opened.server)
        return false;
    if (!parts_->backedUp)
        return true;
    // That records were exported is logged, and changes none of them.
    Statement select(parts_->session(),
                     "SELECT (SELECT coalesce(max(seq), 0) FROM change_log WHERE action <> 'export') > :seq "
                     "OR coalesce((SELECT hash FROM change_log WHERE seq = :same), '') <> :hash",
                     "look for changes since the backup");
    select.bindInt(":seq", parts_->backedUp->sequence)
        .bindInt(":same", parts_->backedUp->sequence)
        .bindText(":hash", parts_->backedUp->hash);
    if (!select.run())
        return true;
    const auto row = select.next();
    return !row || !*row || select.integer(0) != 0;
}

core::Result<CheckReport> Shop::verify(CheckDepth depth) const {
    auto& session = parts_->session();
    if (auto connected = session.connect(); !connected)
        return core::failureOf(connected);
    if (depth == CheckDepth::Quick)
        return quickCheck(session);
    auto report = fullCheck(session);
    if (!report || !report->sound())
        return report;
    auto files =
        AttachmentStore(session, parts_->opened.server ? folder() : attachmentsFolder(folder())).check();
    if (!files)
        return core::failureOf(files);
    report->problems = std::move(*files);
    return report;
}

} // namespace milehold::storage
