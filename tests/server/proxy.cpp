// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/server/proxy.h"

#include <arpa/inet.h>
#include <array>
#include <chrono>
#include <netinet/in.h>
#include <poll.h>
#include <string>
#include <string_view>
#include <sys/socket.h>
#include <unistd.h>

namespace milehold::test {

namespace {

sockaddr_in addressOf(const char* at, int port) {
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(static_cast<std::uint16_t>(port));
    ::inet_pton(AF_INET, at, &address.sin_addr);
    return address;
}

bool sendAll(int to, const char* bytes, ssize_t size) {
    return ::send(to, bytes, static_cast<std::size_t>(size), MSG_NOSIGNAL) == size;
}

} // namespace

CuttingProxy::CuttingProxy(int serverPort, const char* at)
    : serverPort_(serverPort), listener_(::socket(AF_INET, SOCK_STREAM, 0)) {
    sockaddr_in here = addressOf(at, 0);
    socklen_t size = sizeof(here);
    ::bind(listener_, reinterpret_cast<sockaddr*>(&here), size);
    ::listen(listener_, 16);
    ::getsockname(listener_, reinterpret_cast<sockaddr*>(&here), &size);
    port_ = ntohs(here.sin_port);
    thread_ = std::thread([this] { accept(); });
}

CuttingProxy::~CuttingProxy() {
    ends_ = true;
    thread_.join();
    while (open_ > 0)
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    ::close(listener_);
}

void CuttingProxy::accept() {
    while (!ends_) {
        pollfd waiting{listener_, POLLIN, 0};
        if (::poll(&waiting, 1, 20) <= 0)
            continue;
        const int client = ::accept(listener_, nullptr, nullptr);
        if (client < 0)
            continue;
        ++open_;
        std::thread([this, client] {
            relay(client);
            ::close(client);
            --open_;
        }).detach();
    }
}

void CuttingProxy::relay(int client) {
    const int server = ::socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in there = addressOf("127.0.0.1", serverPort_);
    bool passes = ::connect(server, reinterpret_cast<sockaddr*>(&there), sizeof(there)) == 0;
    std::array<char, 65536> buffer{};
    // A simple query of the protocol: 'Q', its length, its text with a zero behind it.
    constexpr std::string_view kCommit("Q\0\0\0\x0b"
                                       "COMMIT\0",
                                       12);
    while (passes && !ends_) {
        std::array<pollfd, 2> waiting = {pollfd{client, POLLIN, 0}, pollfd{server, POLLIN, 0}};
        if (::poll(waiting.data(), waiting.size(), 20) <= 0)
            continue;
        if (waiting[0].revents != 0) {
            const ssize_t size = ::recv(client, buffer.data(), buffer.size(), 0);
            if (size <= 0)
                break;
            const std::string_view bytes(buffer.data(), static_cast<std::size_t>(size));
            if (armed_ != Cut::None && bytes.find(kCommit) != std::string_view::npos) {
                const Cut cut = armed_.exchange(Cut::None);
                if (cut == Cut::AfterServer && sendAll(server, buffer.data(), size))
                    ::recv(server, buffer.data(), buffer.size(), 0); // the answer, which goes nowhere
                ++cuts_;
                break;
            }
            passes = sendAll(server, buffer.data(), size);
        }
        if (waiting[1].revents != 0) {
            const ssize_t size = ::recv(server, buffer.data(), buffer.size(), 0);
            passes = size > 0 && sendAll(client, buffer.data(), size);
        }
    }
    ::close(server);
}

} // namespace milehold::test
