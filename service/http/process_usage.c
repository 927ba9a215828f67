#include "http/process_usage.h"

#include <dirent.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>
#include <unistd.h>

static double
cpu_s(void)
{
    struct timespec used;
    return clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &used) == 0 ? (double)used.tv_sec + 1e-9 * (double)used.tv_nsec
                                                               : -1.0;
}

/* The second number of statm is the resident set, in pages. */
static long long
resident_bytes(void)
{
    char line[256] = "";
    const long page = sysconf(_SC_PAGESIZE);
    FILE *file = fopen("/proc/self/statm", "r");
    if (file == NULL) {
        return -1;
    }
    const bool read = fgets(line, sizeof line, file) != NULL;
    fclose(file);
    const char *second = strchr(line, ' ');
    if (!read || second == NULL || page <= 0) {
        return -1;
    }
    char *end = NULL;
    const long long pages = strtoll(second, &end, 10);
    return end != second && pages >= 0 ? pages * page : -1;
}

static long long
open_files(void)
{
    long long count = 0;
    DIR *folder = opendir("/proc/self/fd");
    if (folder == NULL) {
        return -1;
    }
    for (const struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        count += entry->d_name[0] != '.' ? 1 : 0;
    }
    closedir(folder);
    return count - 1; /* the folder's own */
}

void
process_usage_read(struct process_usage *usage)
{
    struct rlimit files;
    const int known = getrlimit(RLIMIT_NOFILE, &files) == 0 && files.rlim_cur != RLIM_INFINITY;
    usage->cpu_s = cpu_s();
    usage->resident_bytes = resident_bytes();
    usage->open_files = open_files();
    usage->most_files = known ? (long long)files.rlim_cur : -1;
}
