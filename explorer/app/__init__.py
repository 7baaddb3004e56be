"""The Streamlit shell: thin views over the shared core calls."""
