"""The two little languages: what a person may text, and what an installer may write after `when`.

Knows nothing of the gateway. Other rooms may import `grammar.meanings` only; the readers are handed in ready made.
"""
