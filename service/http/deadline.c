#include "http/deadline.h"

#include <errno.h>
#include <sys/socket.h>
#include <time.h>

static _Thread_local struct {
    int64_t end_ms; /* 0 = no limit */
    bool passed;
    bool has_socket;
    int socket; /* the last one waited on */
} limit;

int64_t
deadline_now_us(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000000 + now.tv_nsec / 1000;
}

int64_t
deadline_now_ms(void)
{
    return deadline_now_us() / 1000;
}

void
deadline_set(int milliseconds)
{
    limit.end_ms = deadline_now_ms() + milliseconds;
    limit.passed = false;
}

void
deadline_clear(void)
{
    limit.end_ms = 0;
    limit.passed = false;
    limit.has_socket = false;
}

bool
deadline_passed(void)
{
    return limit.passed || (limit.end_ms != 0 && deadline_now_ms() >= limit.end_ms);
}

static int
end_wait(struct pollfd *sockets)
{
    limit.passed = true;
    if ((sockets[0].events & POLLOUT) != 0) {
        /* CivetWeb takes a failed wait to write for a delay and tries again at
         * once, over and over; a closed socket it understands. */
        shutdown(sockets[0].fd, SHUT_RDWR);
        sockets[0].revents = POLLOUT;
        return 1;
    }
    errno = ETIMEDOUT;
    return -1;
}

int
smallend_poll(struct pollfd *sockets, nfds_t count, int milliseconds)
{
    if (count == 1) {
        limit.has_socket = true;
        limit.socket = sockets[0].fd;
    }
    if (limit.end_ms == 0 || count != 1) {
        return poll(sockets, count, milliseconds);
    }
    const int64_t left = limit.end_ms - deadline_now_ms();
    if (left <= 0) {
        return end_wait(sockets);
    }
    const bool ends_here = milliseconds < 0 || left <= milliseconds;
    const int ready = poll(sockets, count, ends_here ? (int)left : milliseconds);
    return ready == 0 && ends_here ? end_wait(sockets) : ready;
}

void
deadline_linger(size_t most_bytes, int most_ms, bool finish)
{
    if (!limit.has_socket) {
        return;
    }
    if (finish) {
        shutdown(limit.socket, SHUT_WR);
    }
    const int64_t end = deadline_now_ms() + most_ms;
    char scrap[4096];
    for (size_t total = 0; total < most_bytes;) {
        const int64_t left = end - deadline_now_ms();
        struct pollfd wait = {.fd = limit.socket, .events = POLLIN};
        if (left <= 0 || poll(&wait, 1, (int)left) <= 0) {
            return;
        }
        const ssize_t got = recv(limit.socket, scrap, sizeof scrap, MSG_DONTWAIT);
        if (got <= 0) {
            return;
        }
        total += (size_t)got;
    }
}
