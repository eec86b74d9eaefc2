// A port as it is opened: its speed, and why it can't be.
#include "winkhold/live/port/serial_line.hpp"

#include <asm/termbits.h>
#include <cstdlib>
#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

namespace winkhold::testing {
namespace {

/// Both ends of a pseudo-terminal.
class SerialLine : public ::testing::Test {
protected:
    SerialLine() : ours(::posix_openpt(O_RDWR | O_NOCTTY)) {
        EXPECT_EQ(::grantpt(ours), 0);
        EXPECT_EQ(::unlockpt(ours), 0);
        name = ::ptsname(ours);
    }
    ~SerialLine() override { ::close(ours); }

    int ours;
    std::string name;
};

TEST_F(SerialLine, RunsAtTheBoardsSpeedAndPassesEveryByteAsItIs) {
    const int port = host::open_serial_line(name);
    struct termios2 line {};
    ASSERT_EQ(::ioctl(port, TCGETS2, &line), 0);
    EXPECT_EQ(line.c_ospeed, host::board_baud);
    EXPECT_EQ(line.c_ispeed, host::board_baud);
    const char sent[] = "\x03\x11\x13\r\n\x7f\xff";
    char got[16]{};
    ASSERT_EQ(::write(port, sent, sizeof sent), static_cast<ssize_t>(sizeof sent));
    ASSERT_EQ(::read(ours, got, sizeof got), static_cast<ssize_t>(sizeof sent));
    EXPECT_EQ(std::string(got, sizeof sent), std::string(sent, sizeof sent));
    ASSERT_EQ(::write(ours, sent, sizeof sent), static_cast<ssize_t>(sizeof sent));
    ASSERT_EQ(::read(port, got, sizeof got), static_cast<ssize_t>(sizeof sent));
    EXPECT_EQ(std::string(got, sizeof sent), std::string(sent, sizeof sent));
    ::close(port);
}

TEST_F(SerialLine, ThatBelongsToAGroupIsToldToJoinIt) {
    ASSERT_EQ(::chmod(name.c_str(), 0), 0);
    int pipe[2];
    ASSERT_EQ(::pipe(pipe), 0);
    const pid_t child = ::fork();
    if (child == 0) {
        if (::geteuid() == 0 && ::seteuid(65'534) != 0) std::_Exit(1); // the administrator may do all
        std::string said = "opened";
        try {
            host::open_serial_line(name);
        } catch (const host::InputError& error) {
            said = error.what();
        }
        std::_Exit(::write(pipe[1], said.data(), said.size()) > 0 ? 0 : 1);
    }
    ::close(pipe[1]);
    std::string said(1'000, '\0');
    said.resize(static_cast<std::size_t>(std::max<ssize_t>(0, ::read(pipe[0], said.data(), said.size()))));
    ::close(pipe[0]);
    ::waitpid(child, nullptr, 0);
    EXPECT_NE(said.find("no permission; join the group that may: sudo usermod -aG dialout $USER"),
              std::string::npos)
        << said;
}

TEST_F(SerialLine, IsForOneProgramAtATime) {
    const int port = host::open_serial_line(name);
    try {
        host::open_serial_line(name);
        FAIL();
    } catch (const host::InputError& error) {
        EXPECT_NE(std::string(error.what()).find("another program has this port"), std::string::npos);
    }
    ::close(port);
    ::close(host::open_serial_line(name));
}

} // namespace
} // namespace winkhold::testing
