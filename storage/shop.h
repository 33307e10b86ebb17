// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/shop/settings.h"
#include "storage/backup.h"
#include "storage/change_log.h"
#include "storage/customer_store.h"
#include "storage/draft_store.h"
#include "storage/follow_up_store.h"
#include "storage/job_store.h"
#include "storage/life_store.h"
#include "storage/shelf_store.h"
#include "storage/staff_store.h"
#include "storage/vehicle_store.h"
#include "storage/who.h"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace milehold::storage {

class ExchangeStore;

struct OpenOptions {
    /// Where "now" comes from; empty: the machine's clock.
    std::function<core::Moment()> clock;
};

/// Who holds a shop that cannot be opened.
struct Holder {
    std::int64_t pid = 0;
    std::string host;
    std::string program;
    friend bool operator==(const Holder&, const Holder&) = default;
};

/// Quick looks at the structure of the file; Full also checks references, the shop's own rules and the change
/// log.
enum class CheckDepth : std::uint8_t { Quick, Full };

struct CheckReport {
    std::vector<std::string> problems; ///< empty: sound. No customer data.
    std::int64_t rows = 0;             ///< of all tables
    bool sound() const { return problems.empty(); }
};

/// A record that a commit has changed.
struct ChangeNotice {
    std::string table;
    core::Uuid row;
    friend bool operator==(const ChangeNotice&, const ChangeNotice&) = default;
};

/// An open shop: a folder `NAME.milehold/` with one holder, one connection, one thread.
///
/// Everything is synchronous and must be called on the thread that opened it (asserted). A QCoreApplication
/// must exist. A Shop that is destroyed without close() leaves its mark, and the next open checks the file in
/// full.
class Shop {
public:
    /// Makes the folder, which must not exist or be empty, and opens it.
    /// Errors: InvalidInput (the settings; the folder's name), ReadOnly, DiskProblem, Unsupported (network
    /// disks).
    static core::Result<std::unique_ptr<Shop>>
    create(const std::filesystem::path& folder, const core::ShopSettings& settings, OpenOptions options = {});
    /// Checks the files before it trusts them, brings an older shop up to date after a verified backup, and
    /// opens it. Errors: NotFound, NotAShop, TooNew, InUse, Unreadable (damaged: see listBackups), ReadOnly,
    /// DiskProblem, Unsupported.
    static core::Result<std::unique_ptr<Shop>> open(const std::filesystem::path& folder,
                                                    OpenOptions options = {});
    /// Opens a backup for reading only; every save is refused with ReadOnly. The shop itself may be in use.
    static core::Result<std::unique_ptr<Shop>> browse(const BackupInfo& backup, OpenOptions options = {});
    /// Who holds the shop now; empty when nobody does.
    static std::optional<Holder> holderOf(const std::filesystem::path& folder);

    ~Shop();
    Shop(const Shop&) = delete;
    Shop& operator=(const Shop&) = delete;

    /// Backs up when something was changed since the last backup, and lets go of the folder. The shop is
    /// closed afterwards even when the backup failed (then that error is returned).
    core::Result<void> close();

    const std::filesystem::path& folder() const;
    bool readOnly() const;
    void setWho(Who who);
    const Who& who() const;
    /// Called after each commit with what it changed, on the shop's thread.
    void onChange(std::function<void(const std::vector<ChangeNotice>&)> listener);

    /// Everything that `work` saves is one commit: all of it, or nothing when it fails.
    core::Result<void> together(const std::function<core::Result<void>()>& work);

    core::Result<core::ShopSettings> settings() const;
    core::Result<core::ShopSettings> saveSettings(core::ShopSettings settings);

    StaffStore& staff();
    CustomerStore& customers();
    VehicleStore& vehicles();
    ShelfStore& shelf();
    JobStore& jobs();
    FollowUpStore& followUps();
    LifeStore& lives();
    DraftStore& drafts();
    ChangeLog& changeLog();
    ExchangeStore& exchange();

    /// A verified copy in `backups/`. Errors: DiskProblem, Unreadable (the copy did not verify and was
    /// removed).
    core::Result<BackupInfo> backUp(BackupReason reason);
    core::Result<std::vector<BackupInfo>> backups() const;
    /// Empty when there is none yet.
    core::Result<std::optional<BackupInfo>> lastBackup() const;
    /// Whether anything was saved since the last backup.
    bool changedSinceBackup() const;
    core::Result<CheckReport> verify(CheckDepth depth) const;

private:
    struct Parts;
    explicit Shop(std::unique_ptr<Parts> parts);
    std::unique_ptr<Parts> parts_;
};

} // namespace milehold::storage
