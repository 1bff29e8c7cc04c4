#ifndef UF_CLONES_H
#define UF_CLONES_H

/* One binary for old and new x86-64: the loops are compiled three times and chosen at
   start. */
#if defined(__GNUC__) && !defined(__clang__) && defined(__x86_64__) && defined(__OPTIMIZE__) &&    \
    !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
#define UF_CLONES __attribute__((target_clones("default", "arch=x86-64-v3", "arch=x86-64-v4")))
#else
#define UF_CLONES
#endif

#endif
