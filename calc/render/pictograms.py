"""stub"""
def of(key: str) -> str:
    return '<svg class="pictogram" viewBox="0 0 44 32" aria-hidden="true"><path class="ink" d="M6 6l4 20h24l4-20"/></svg>'
