#include "http/stop.h"

#include <errno.h>
#include <signal.h>
#include <stddef.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

static void
fill(sigset_t *set)
{
    sigemptyset(set);
    sigaddset(set, SIGTERM);
    sigaddset(set, SIGINT);
    sigaddset(set, SIGHUP);
}

void
stop_block_signals(void)
{
    sigset_t set;
    struct sigaction ignore = {.sa_handler = SIG_IGN};
    fill(&set);
    pthread_sigmask(SIG_BLOCK, &set, NULL);
    sigaction(SIGPIPE, &ignore, NULL);
}

int
stop_wait(void (*reload)(void *data), void *data)
{
    sigset_t set;
    int signal_number = 0;
    fill(&set);
    for (;;) {
        if (sigwait(&set, &signal_number) != 0) {
            continue;
        }
        if (signal_number != SIGHUP) {
            return signal_number;
        }
        reload(data);
    }
}

static void *
watch_over(void *data)
{
    const struct stop_watch *watch = data;
    const struct timespec limit = {.tv_sec = watch->limit_ms / 1000, .tv_nsec = watch->limit_ms % 1000 * 1000000};
    sigset_t set;
    fill(&set);
    sigdelset(&set, SIGHUP);
    int signal_number;
    do {
        signal_number = sigtimedwait(&set, NULL, &limit);
    } while (signal_number < 0 && errno == EINTR);
    /* Not exit(): other threads may still run, or hang. */
    _exit(signal_number > 0 ? 128 + signal_number : EXIT_FAILURE);
}

void
stop_watch_start(struct stop_watch *watch, long limit_ms)
{
    watch->limit_ms = limit_ms;
    watch->started = pthread_create(&watch->thread, NULL, watch_over, watch) == 0;
}

void
stop_watch_end(struct stop_watch *watch)
{
    if (watch->started) {
        pthread_cancel(watch->thread);
        pthread_join(watch->thread, NULL);
    }
}
