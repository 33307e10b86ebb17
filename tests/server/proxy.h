// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <atomic>
#include <cstdint>
#include <thread>

namespace milehold::test {

/// Stands between a program and the server on the loopback network, reads along (so without TLS), and cuts
/// the connection at a COMMIT when it was armed: before the server gets it, or after the server has done it
/// and before its answer gets back. The next connections pass.
class CuttingProxy {
public:
    enum class Cut : std::uint8_t { None, BeforeServer, AfterServer };

    /// `at`: the address of this machine on which it listens.
    explicit CuttingProxy(int serverPort, const char* at = "127.0.0.1");
    ~CuttingProxy();
    CuttingProxy(const CuttingProxy&) = delete;
    CuttingProxy& operator=(const CuttingProxy&) = delete;

    int port() const { return port_; }
    /// The next COMMIT is cut, once.
    void arm(Cut cut) { armed_ = cut; }
    int cuts() const { return cuts_; }

private:
    void accept();
    void relay(int client);

    int serverPort_;
    int listener_ = -1;
    int port_ = 0;
    std::atomic<Cut> armed_ = Cut::None;
    std::atomic<int> cuts_ = 0;
    std::atomic<bool> ends_ = false;
    std::atomic<int> open_ = 0;
    std::thread thread_;
};

} // namespace milehold::test
