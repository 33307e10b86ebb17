// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "tests/storage/support/shop_fixture.h"
#include "tests/support/postgresql_server.h"

#include <QProcess>

#include <memory>
#include <string>
#include <vector>

namespace milehold::test {

/// A shop on the tests' server.
class OnServer : public ShopTest {
protected:
    bool isOnServer() const override { return true; }
    static PostgresqlServer& server() { return PostgresqlServer::shared(); }
    std::string database() const { return address().substr(address().rfind('/') + 1); }
    std::int64_t count(const std::string& sql) const { return std::stoll(server().ask(database(), sql)); }
};

/// So many in the whole test plan, or a share of them that ends within seconds.
int manyOrFew(int many, int few);

/// A child of this program: `--write ADDRESS JOBS MARK` (see writer.h).
std::unique_ptr<QProcess> startWriter(const std::string& address, int jobs, int mark);

} // namespace milehold::test
