#ifndef SMALLEND_HTTP_PROCESS_USAGE_H
#define SMALLEND_HTTP_PROCESS_USAGE_H

/* What this process uses of the machine, as Linux counts it: proc(5). */

struct process_usage {
    double cpu_s;             /* of all threads, user and system */
    long long resident_bytes; /* each of these is -1 where it could not be found out */
    long long open_files;
    long long most_files;
};

void process_usage_read(struct process_usage *usage);

#endif
