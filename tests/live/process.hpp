/// Programs beside the test, for as long as they are wanted.
#pragma once

#include <array>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <fcntl.h>
#include <string>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>
#include <vector>

namespace winkhold::testing {

/// Started when made; killed when it goes, if it still runs. Its output goes to files.
class Process {
public:
    Process(std::vector<std::string> words, const std::string& out, const std::string& err) {
        pid_ = ::fork();
        if (pid_ != 0) return;
        const auto to = [](const std::string& path, int descriptor) {
            ::dup2(::open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0666), descriptor);
        };
        to(out, STDOUT_FILENO);
        to(err, STDERR_FILENO);
        ::dup2(::open("/dev/null", O_RDONLY), STDIN_FILENO);
        std::vector<char*> arguments;
        for (std::string& word : words)
            arguments.push_back(word.data());
        arguments.push_back(nullptr);
        ::execv(arguments[0], arguments.data());
        std::_Exit(127);
    }
    ~Process() {
        if (pid_ > 0) end(SIGKILL);
    }
    Process(const Process&) = delete;
    Process& operator=(const Process&) = delete;

    void send(int signal) const { ::kill(pid_, signal); }
    /// Its exit code once it has ended; -1 if a signal ended it.
    int end(int signal = 0) {
        if (signal != 0) send(signal);
        int status = 0;
        while (::waitpid(pid_, &status, 0) < 0 && errno == EINTR) {
        }
        pid_ = 0;
        return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    }

private:
    pid_t pid_;
};

inline void wait_ms(int ms) {
    std::this_thread::sleep_for(std::chrono::milliseconds(ms));
}

} // namespace winkhold::testing
